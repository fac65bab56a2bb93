/** From what was typed into a cell to the entry that says it: an estimate revised, or what the part was added as put right. */

import { type AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import type { PartPageReport } from '#shared/contract/part.ts';
import type { PartReport } from '#shared/contract/reports.ts';
import { estimateInWords, estimateToSend, leavesLayUp } from '#shared/estimate/in-words.ts';
import { say } from '#shared/words/say.ts';
import { ask, ProblemError } from '../door/ask.ts';
import { partQuestion, queries } from '../door/queries.ts';
import { typedWith } from '../pieces/typed-units.ts';
import type { Shown } from '../pieces/units.ts';
import { LEAVES_LAY_UP } from '../words/lay-up.ts';
import { type Edit, unitName } from './columns.tsx';

type Recording = {
  readonly aircraft: AircraftReport;
  readonly part: PartReport;
  /** The id of the entry: sent again after a lost answer, it is known for the same (rule L3). */
  readonly id: string;
  readonly text: string;
  readonly shown: Shown;
  /** Somebody was told what this leaves behind, and goes on. */
  readonly isSure?: boolean;
};

/** The estimate as it stands now, with one figure changed. Answers the number of the entry. */
export async function reviseEstimate(
  edit: Extract<Edit, { records: 'estimate' }>,
  { aircraft, part, id, text, shown, isSure }: Recording,
): Promise<number> {
  const { field, unit } = edit;
  if (field === 'x' && part.armIsMeasured)
    throw refusal('Its arm was measured, which overrules the estimate.', MEASURE);
  const { estimates } = await freshPage(aircraft, part);
  const [current] = estimates;
  const words: Record<string, string> = current === undefined ? {} : { ...estimateInWords(current) };
  if (text.trim() === '') delete words[field];
  else {
    const name = unitName(unit, shown);
    words[field] = name === undefined ? text.trim() : typedWith(text, name);
  }
  if (isSure !== true && leavesLayUp(words, current)) throw new LeavesLayUp();
  return send(aircraft, { kind: 'estimate', id, part: part.number, ...estimateToSend(words, current) });
}

/** Nothing is wrong with it, but it is asked before it is sent. */
export class LeavesLayUp extends Error {
  constructor() {
    super(say`${LEAVES_LAY_UP} Enter once more records it so; Escape leaves it as it was.`);
  }
}

const MEASURE = say`Measure it anew on the page of the part.`;

type Definition = Extract<Edit, { records: 'part added' }>['field'];

/** What the part was added as, with one word changed, and why (rule L2). */
export async function correctPart(
  field: Definition,
  { aircraft, part, id, text }: Omit<Recording, 'shown' | 'isSure'>,
  reason: string,
): Promise<number> {
  const { added } = await freshPage(aircraft, part);
  const { number, name, group, assembly, quantity, side, process } = part;
  const before = { number, name, group, assembly, quantity: String(quantity), side, process };
  const replacement = Object.fromEntries(
    Object.entries({ ...before, [field]: text.trim() }).filter(([, words]) => words !== undefined && words !== ''),
  );
  return send(aircraft, { kind: 'correction', id, entry: added.seq, reason, replacement });
}

/** Records any entry; answers its number. */
export async function send(aircraft: AircraftReport, entry: Readonly<Record<string, unknown>>): Promise<number> {
  const body = entry;
  const recorded = await ask(`/api/aircraft/${aircraft.id}/entries`, { method: 'POST', body, reply: RecordedReport });
  return recorded.entry.seq;
}

/** Somebody else may have changed another figure since the table was read. */
function freshPage(aircraft: AircraftReport, part: PartReport): Promise<PartPageReport> {
  return queries.fetchQuery({ ...partQuestion(aircraft.id, part.partId), staleTime: 0 });
}

function refusal(detail: string, remedy: string): ProblemError {
  return new ProblemError({ type: 'about:blank', title: say`Refused`, status: 409, code: 'refused', detail, remedy });
}
