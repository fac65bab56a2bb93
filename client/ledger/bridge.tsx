/** What changed from any day to any day, or between any two entries, by cause, group or part (rule L6). */

import { useCallback, useMemo, useState } from 'react';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { BRIDGE_KEYS, type BridgeKey, type BridgeReport } from '#shared/contract/reports.ts';
import { say, term } from '#shared/words/say.ts';
import { useBridge } from '../door/queries.ts';
import { Choice, Field } from '../pieces/controls.tsx';
import { Failed } from '../pieces/states.tsx';
import type { Shown } from '../pieces/units.ts';
import { bridgeConfig } from './bridge-config.ts';
import { bridgeLines, endWords } from './bridge-lines.ts';
import { BridgeTable } from './bridge-table.tsx';
import { Picture } from './picture.tsx';

const AXES = [
  { value: 'day', words: say`days` },
  { value: 'entry', words: say`entries` },
] as const;
type Axis = (typeof AXES)[number]['value'];

const KEYS = BRIDGE_KEYS.map((value) => ({ value, words: term(value) }));

/** What is shown first: long enough for something to have happened. */
const FIRST_DAYS = 91;

export function Bridge(props: {
  readonly aircraft: AircraftReport;
  readonly shown: Shown;
  readonly lastDay: string;
  readonly lastSeq: number;
}) {
  const { aircraft, shown } = props;
  const [axis, setAxis] = useState<Axis>('day');
  const [by, setBy] = useState<BridgeKey>('cause');
  const [days, setDays] = useState({ from: daysBefore(props.lastDay, FIRST_DAYS), to: '' });
  const [entries, setEntries] = useState({ from: '0', to: '' });
  const ends =
    axis === 'day'
      ? { ...days, to: days.to || props.lastDay }
      : { ...entries, to: entries.to || String(props.lastSeq) };
  const problem = problemOf(axis, ends, props.lastSeq);
  const asked = useMemo<Readonly<Record<string, string>> | undefined>(() => {
    if (problem !== undefined) return undefined;
    const period = axis === 'day' ? { fromDay: ends.from, toDay: ends.to } : { fromEntry: ends.from, toEntry: ends.to };
    return { ...period, by };
  }, [axis, by, ends.from, ends.to, problem]);
  const bridge = useBridge(aircraft.id, asked);
  const set = (end: 'from' | 'to') => (value: string) =>
    axis === 'day' ? setDays({ ...days, [end]: value }) : setEntries({ ...entries, [end]: value });
  const configure = useCallback(() => bridgeConfig(bridge.data, shown), [bridge.data, shown]);
  const summary = bridge.data === undefined ? '' : summaryOf(bridge.data, shown);
  const bars = bridge.data === undefined ? [] : bridgeLines(bridge.data).filter(({ massKg }) => massKg !== 0);
  return (
    <Picture
      title={say`Change in predicted weight, by ${bridge.data?.by ?? by}`}
      summary={summary}
      configure={configure}
      barCount={bars.length + 1}
      tools={
        <>
          <div className="bridge-tools no-print">
            <Choice label={say`Told apart by`} options={KEYS} value={by} onChange={setBy} />
            <Choice label={say`Between two`} options={AXES} value={axis} onChange={setAxis} />
            <Field
              label={axis === 'day' ? say`After day` : say`After entry`}
              type={axis === 'day' ? 'date' : 'text'}
              value={ends.from}
              onChange={set('from')}
              problem={problem}
            />
            <Field
              label={axis === 'day' ? say`Up to day` : say`Up to entry`}
              type={axis === 'day' ? 'date' : 'text'}
              value={ends.to}
              onChange={set('to')}
            />
          </div>
          {bridge.isError ? <Failed error={bridge.error} again={() => void bridge.refetch()} /> : null}
        </>
      }
    >
      {bridge.data === undefined ? null : <BridgeTable bridge={bridge.data} shown={shown} aircraftId={aircraft.id} />}
    </Picture>
  );
}

type Ends = { readonly from: string; readonly to: string };

function problemOf(axis: Axis, { from, to }: Ends, lastSeq: number): string | undefined {
  if (axis === 'day') {
    if (from === '' || to === '') return say`Give both days.`;
    return from > to ? say`The first day lies after the last. Change one of them.` : undefined;
  }
  const [first, last] = [Number(from), Number(to)];
  if (!/^\d+$/.test(from.trim()) || !/^\d+$/.test(to.trim()) || last < 1)
    return say`Give two entry numbers; 0 is the beginning.`;
  if (first > last) return say`The first entry lies after the last. Change one of them.`;
  return last > lastSeq ? say`The last entry is ${lastSeq}. Give that, or an earlier one.` : undefined;
}

function daysBefore(day: string, count: number): string {
  return new Date(Date.parse(day) - count * 86_400_000).toISOString().slice(0, 10);
}

function summaryOf({ axis, from, to }: BridgeReport, { massWithUnit, cgEffect }: Shown): string {
  const change = massWithUnit(to.predictedKg - from.predictedKg, { sign: true });
  const cg = from.cgXM === undefined || to.cgXM === undefined ? '' : say`, CG x ${cgEffect(to.cgXM - from.cgXM)}`;
  const margin =
    from.marginKg === undefined || to.marginKg === undefined
      ? ''
      : say`, margin ${massWithUnit(to.marginKg - from.marginKg, { sign: true })}`;
  return say`From ${massWithUnit(from.predictedKg)} after ${endWords(axis, from.at)} to ${massWithUnit(to.predictedKg)} up to ${endWords(axis, to.at)}: ${change}${margin}${cg}. 0 is where it began.`;
}
