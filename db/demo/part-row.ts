/**
 * How the demonstration aircraft's parts are written down. All of it is invented: parts, people and figures belong to no real
 * aircraft. Masses are of one piece; stations are metres from a datum 0.5 m ahead of the bow.
 */
import type { Condition, Process } from '#shared/ledger/entry.ts';

/** x aft, y to the right, z up from the load waterline. */
export type Place = readonly [x: number, y: number, z: number];

export type PartRow = {
  readonly number: string;
  readonly name: string;
  /** Number of the assembly it belongs to. */
  readonly in?: string;
  readonly quantity?: number;
  readonly side?: 'left' | 'right' | 'centre';
  readonly process: Process;
  /** The worked-out estimate of one piece, installed. An assembly has none. */
  readonly kg?: number;
  readonly at?: Place;
  /** Standard uncertainty of the worked-out estimate and of its arm, where the shop's usual ones do not hold. */
  readonly std?: string;
  readonly armStd?: string;
  /** Allowance in per cent, where the shop states its own. */
  readonly allowance?: number;
  readonly flashG?: number;
  readonly laterG?: number;
  /** It was first guessed at this mass, and worked out in that week. Without a week it is a guess to this day. */
  readonly guess?: {
    readonly kg: number;
    readonly std?: string;
    readonly allowance?: number;
    readonly workedOutInWeek?: number;
  };
  /**
   * The week in which the estimate was stated again, with the same mass and less trust in it. Of a lay-up it is the fibre fraction that is
   * trusted less, and \`std\` is what that comes to.
   */
  readonly restated?: { readonly week: number; readonly std: string; readonly fractionStd?: string };
  /** The week in which somebody found that it was missing from the first list. */
  readonly addedInWeek?: number;
  /** The week of its first weighing; of several, one a piece, where the pieces were not weighed as one lot. */
  readonly weighed?: number | readonly number[];
  /** Weeks after the first weighing at which it was weighed again, as what, and how much a rework had taken off. */
  readonly again?: readonly {
    readonly after: number;
    readonly as: Condition;
    readonly lighterG?: number;
  }[];
  /** Hung on the hand scale, for its length or for want of another scale at that place. */
  readonly hung?: boolean;
  /** What it came out heavier than estimated, as a fraction, where this is part of the story and not chance. */
  readonly grew?: number;
  /** Weeks after the weighing at which it was built in. */
  readonly builtIn?: number;
  /** Weeks after the weighing at which its arm was measured. */
  readonly armMeasured?: number;
  /** Its arm was measured on two supports, at these stations from the bench zero. */
  readonly onSupports?: { readonly benchZeroM: number; readonly firstM: number; readonly secondM: number };
};

export type GroupOfParts = { readonly group: string; readonly parts: readonly PartRow[] };

/** The process that starts to run resin-rich, from that week on, by that share of the moulded mass. */
export const RESIN_RICH = { process: 'resin-infused', fromWeek: 40, by: 0.13 } as const;
