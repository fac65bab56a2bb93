/** Entries in words that a ledger with some parts mostly takes, drawn. All figures are invented. */

import { SIGNED } from '#tests/shared/aircraft-weighing/refused-weighings.ts';
import { keptGeometry } from '#tests/shared/geometry/make-mesh.ts';
import { METRIC, POUNDS } from '#tests/shared/loading/limits-words.ts';
import type { Draw } from './draw.ts';

export type Words = Readonly<Record<string, unknown>>;

const PROCESSES = ['prepreg', 'resin-infused', 'wet lay-up', 'machined', 'bought', 'bonding', 'finish', 'wiring'];
const CONDITIONS = ['as released', 'trimmed', 'finished'];
const CAUSES = ['resin-rich', 'dry', 'core changed', 'filler or bond'];

/** `numbers` are those of the parts; `headSeq` is the last entry there is. */
export function entryWords(draw: Draw, numbers: readonly string[], headSeq: number): Words {
  const part = numbers.length === 0 ? 'W-104' : draw.of(numbers);
  const mass = (least: number, most: number) => `${draw.decimal(least, most)} ${draw.of(['kg', 'kg', 'lb'])}`;
  const station = () => `${draw.decimal(0.5, 6)} m`;
  const weighing = (): Words => ({
    kind: 'weighing',
    ...{ part, piece: String(draw.int(1, 2)), gross: mass(1, 6), condition: draw.of(CONDITIONS) },
    ...(draw.in100(40) ? { tare: '0.2 kg' } : {}),
    ...(draw.in100(30) ? { cause: draw.of(CAUSES), lot: `L-${draw.int(1, 4)}`, temperature: '21 °C' } : {}),
    ...(draw.in100(30) ? { scale: 'Bench' } : {}),
  });
  const estimate = (): Words => ({
    kind: 'estimate',
    ...{ part, estimate: mass(1, 6), x: station(), allowance: `${draw.int(0, 30)} %` },
    ...(draw.in100(40) ? { flash: '0.1 kg', later: '0.2 kg' } : {}),
  });
  const words = draw.of<() => Words>([
    weighing,
    weighing,
    weighing,
    estimate,
    estimate,
    () => ({
      ...{ kind: 'part added', number: `N-${draw.word(6)}`, group: draw.of(['wing', 'tail', 'body']) },
      ...{ quantity: String(draw.int(1, 4)), process: draw.of(PROCESSES) },
      ...(draw.in100(20) ? { assembly: 'FIN' } : {}),
    }),
    () => ({ kind: 'note', text: draw.word(), ...(draw.in100(50) ? { part } : {}) }),
    () => ({ kind: 'arm measured', part, x: station(), 'arm uncertainty': '5 mm' }),
    () => ({ kind: 'piece withdrawn', part, piece: '1', reason: 'scrapped' }),
    () => ({ kind: 'piece installed', part, piece: '1' }),
    () => ({ kind: 'disposition', part, piece: '1', decision: 'accepted', inspection: 'tapped, sound' }),
    () => ({ kind: 'assembly weighing', part: 'FIN', gross: mass(4, 9), condition: 'finished', x: station() }),
    () => ({ kind: 'scale', scale: `S-${draw.int(1, 3)}`, capacity: '30 kg', resolution: '10 g' }),
    () => ({ kind: 'check weight', scale: 'Bench', reference: '5 kg', shown: `${draw.decimal(4.98, 5.03, 3)} kg` }),
    () => ({ kind: 'material', name: `Epoxy ${draw.int(1, 5)}`, is: 'resin', density: '1.15 g/cm³' }),
    () => ({ kind: 'datum moved', shift: `${draw.decimal(-0.2, 0.2)} m`, datum: 'ahead', reason: 'clearer' }),
    () => ({
      ...{ kind: 'targets', 'empty mass': `${draw.int(30, 400)} kg`, reserve: '1 kg', reason: 'anew' },
      ...{ 'cg forward': '1.5 m', 'cg aft': '3.5 m', groups: { wing: '20 kg', tail: '9 kg' } },
    }),
    () => ({ kind: 'allowances', 'bought estimated': `${draw.int(1, 30)} %` }),
    () => ({ kind: 'loading', limits: draw.of([METRIC, METRIC, POUNDS]), reason: 'anew' }),
    () => ({ kind: 'aircraft', name: `Dabchick ${draw.word()}`, datum: 'the bow', mac: '1.25 m', lemac: '3.15 m' }),
    () => SIGNED,
    () => ({ kind: 'estimate', part, geometry: keptGeometry(), estimate: '4 kg' }),
    () => ({ kind: 'process cause', process: 'prepreg', cause: 'dry', found: draw.word() }),
    () => ({ kind: 'part removed', part: 'SPARE', reason: 'not needed' }),
    () => ({ kind: 'correction', entry: draw.int(2, headSeq), reason: 'a slip', replacement: null }),
    () => ({
      ...{ kind: 'correction', entry: draw.int(2, headSeq), reason: 'pounds' },
      replacement: { part, gross: mass(1, 5), condition: 'finished', piece: '1' },
    }),
  ])();
  return draw.in100(30) ? { ...words, happenedOn: draw.day() } : words;
}
