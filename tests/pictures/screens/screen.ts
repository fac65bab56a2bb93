/** What a screen is for whoever takes its picture. */
import type { BrowserContext, Page } from 'playwright-core';
import { AIRCRAFT, type AircraftKind, type Shop } from '../shop/shop.ts';
import type { Traces } from '../shop/traces.ts';

export type Screen = {
  readonly name: string;
  /** Undefined: it is about no aircraft, and taken once. */
  readonly of: readonly AircraftKind[] | undefined;
  /** From `/aircraft/<id>`, or from the root. Undefined: there is no such screen of this aircraft. */
  readonly at: (shop: Shop, kind: AircraftKind) => string | undefined;
  /** From the address to what is to be seen. */
  readonly go?: (page: Page, shop: Shop) => Promise<unknown>;
  /** Who looks; else the lead. */
  readonly as?: (shop: Shop) => Promise<BrowserContext>;
};

export const WITH_PARTS = AIRCRAFT.filter((kind) => kind !== 'empty');

/** An address out of what a build has left behind. */
export function traceOf(path: (traces: Traces) => string): Screen['at'] {
  return (shop, kind) => {
    const traces = shop.tracesOf[kind];
    return traces === undefined ? undefined : path(traces);
  };
}
