/**
 * Growth allowances a shop starts with, by process and evidence, as fractions of the mass. Common practice, no source:
 * public tables disagree, so these are the shop's own numbers to adjust, and every estimate may state its own.
 */
import type { Evidence, Process } from '#shared/ledger/entry.ts';

type ByEvidence = Readonly<Record<Evidence, number>>;

const COMPOSITE: ByEvidence = { estimated: 0.24, calculated: 0.06 };
const BOND_OR_FINISH: ByEvidence = { estimated: 0.3, calculated: 0.15 };
const MADE_TO_SIZE: ByEvidence = { estimated: 0.15, calculated: 0.04 };

const GROWTH: Readonly<Record<Process, ByEvidence>> = {
  'resin-infused': COMPOSITE,
  'wet lay-up': COMPOSITE,
  prepreg: COMPOSITE,
  machined: MADE_TO_SIZE,
  printed: MADE_TO_SIZE,
  bought: { estimated: 0.2, calculated: 0.05 },
  wiring: { estimated: 0.5, calculated: 0.2 },
  bonding: BOND_OR_FINISH,
  finish: BOND_OR_FINISH,
  fluid: { estimated: 0.1, calculated: 0.03 },
  other: COMPOSITE,
};

export function shopGrowth(process: Process, evidence: Evidence): number {
  return GROWTH[process][evidence];
}
