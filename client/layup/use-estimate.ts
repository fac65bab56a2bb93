/** The sending of a schedule as the part's estimate: one entry, with the schedule inside, that keeps the arms and the flash of the one in force. */
import { type RefObject, useMemo } from 'react';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import type { EstimateReport, PartPageReport } from '#shared/contract/part.ts';
import type { SetUpReport } from '#shared/contract/set-up.ts';
import { shopGrowth } from '#shared/estimate/allowance.ts';
import { estimateInWords, estimateToSend } from '#shared/estimate/in-words.ts';
import { estimateOfLayUp, type LayUpEstimate } from '#shared/layup/compute.ts';
import { type DraftWords, sentOf } from '#shared/layup/draft.ts';
import { explain } from '#shared/problem/registry.ts';
import { FieldReader } from '#shared/words/field-reader.ts';
import { newId } from '../door/ask.ts';
import { typedWith } from '../pieces/typed-units.ts';
import { useRecord } from '../record/use-record.ts';
import type { Schedule } from './use-schedule.ts';

export type ToRecord = {
  readonly of: Schedule;
  readonly aircraft: AircraftReport;
  readonly page: PartPageReport;
  readonly setUp: SetUpReport;
};

export type EstimateToBe = {
  readonly before: EstimateReport | undefined;
  readonly after: After;
  readonly problemOf: (field: string) => string | undefined;
  /** Fields that must be put right first, those told so far. */
  readonly wrongCount: number;
  readonly refusal: string | undefined;
  readonly isSending: boolean;
  readonly send: () => void;
};

export function useEstimate(
  props: ToRecord,
  root: RefObject<HTMLElement | null>,
  onRecorded: (recorded: RecordedReport) => void,
): EstimateToBe {
  const { of, aircraft, page } = props;
  const [before] = page.estimates;
  const id = useIdOf(`${JSON.stringify(of.draft)} ${JSON.stringify(of.beside)}`);
  const record = useRecord(aircraft, (recorded) => {
    of.recorded();
    onRecorded(recorded);
  });
  const beside = readBeside(of.beside, aircraft);
  const { layUp } = of.read;
  const send = () => {
    // What is recorded already would be the same entry once more.
    if (record.isSending || (!of.isTyped && page.layUp !== undefined)) return;
    of.tellAll();
    if (layUp === undefined || beside.problems.size > 0) {
      // What is told only now is on the page a moment later.
      setTimeout(() => root.current?.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus(), 0);
      return;
    }
    const schedule = sentOf(of.draft, aircraft.lengthUnit);
    const words = { part: page.part.number, ...armsOf(before), ...beside.sent, layUp: schedule };
    record.send({ id, kind: 'estimate', ...estimateToSend(words, before) });
  };
  return {
    before,
    after: afterOf(props, beside),
    problemOf: (field) => beside.problems.get(field) ?? record.problemAt(`/${field}`),
    wrongCount: of.problemCount + beside.problems.size,
    refusal: record.refusal(['/flash', '/allowance', '/x']),
    isSending: record.isSending,
    send,
  };
}

function armsOf(before: EstimateReport | undefined): DraftWords {
  if (before === undefined) return {};
  const words = estimateInWords(before);
  const arms = ['x', 'y', 'z', 'arm uncertainty'] as const;
  return Object.fromEntries(arms.flatMap((field) => (words[field] === undefined ? [] : [[field, words[field]]])));
}

type Beside = {
  readonly sent: DraftWords;
  readonly flashKg: number;
  readonly growth: number | undefined;
  readonly problems: ReadonlyMap<string, string>;
};

function readBeside(words: DraftWords, aircraft: AircraftReport): Beside {
  const units: DraftWords = { flash: aircraft.massUnit, allowance: '%', x: aircraft.lengthUnit };
  const sent = Object.fromEntries(
    Object.entries(words).flatMap(([field, text]) => {
      const unit = units[field];
      return unit === undefined || text.trim() === '' ? [] : [[field, typedWith(text, unit)]];
    }),
  );
  const reader = new FieldReader(sent);
  const flashKg = reader.mass('flash')?.si ?? 0;
  const growth = reader.share('allowance')?.si;
  reader.length('x');
  const told = reader.problems.map(({ field, refusal }) => {
    const { words: what, remedy } = explain(refusal);
    return [field, `${what} ${remedy}`] as const;
  });
  return { sent, flashKg, growth, problems: new Map(told) };
}

export type After = {
  readonly estimate: LayUpEstimate | undefined;
  readonly growth: number;
  readonly shopGrowth: number;
  readonly flashKg: number;
};

function afterOf({ of, page, setUp }: ToRecord, beside: Beside): After {
  const own = setUp.allowances.at(-1);
  const shop = shopGrowth(page.part.process, 'calculated', own);
  const { readable } = of.read;
  return {
    estimate: readable === undefined ? undefined : estimateOfLayUp(readable),
    growth: beside.growth ?? shop,
    shopGrowth: shop,
    flashKg: beside.flashKg,
  };
}

/** One id while the form says one thing, so that what is sent again is known for the same (rule L3). */
function useIdOf(said: string): string {
  return useMemo(() => (said === '' ? '' : newId()), [said]);
}
