/** How the plies are wetted: the resin, the fibre fraction as it was typed, and between what fractions the process usually comes out. */

import { USUAL_FRACTION_STD } from '#shared/layup/from-words.ts';
import { WHOLE } from '#shared/layup/read-draft.ts';
import { showFixed } from '#shared/quantity/show.ts';
import { say, term } from '#shared/words/say.ts';
import { rich } from '../words/rich.ts';
import { Cell, Problems } from './cell.tsx';
import type { LineField } from './line-fields.ts';
import type { LineShows } from './line-row.tsx';
import { MaterialBox } from './material-box.tsx';

const BY: LineField = {
  name: 'by',
  label: say`Fibre fraction by`,
  options: [
    { value: 'mass', words: say`mass, Wf` },
    { value: 'volume', words: say`volume, Vf` },
  ],
};

const RESIN = ['resin'] as const;

const LABELS: ReadonlyMap<string, string> = new Map([
  ['resin', say`Resin`],
  ['fraction', say`Fibre fraction`],
  ['fraction uncertainty', say`Fraction, ±`],
  ['band low', say`Usual Wf, from`],
  ['band high', say`Usual Wf, to`],
  ['regions', say`Lines`],
]);

export function WettingCard(props: LineShows & { readonly process: string }) {
  const { of, aircraft } = props;
  const words = of.draft.words;
  const isByVolume = words['by'] === 'volume';
  const band = of.read.readable?.laminate?.band;
  const usual = (share: number | undefined) => (share === undefined ? '' : `${showFixed(share * 100, 0)} %`);
  const cell = (name: string, unit?: string, placeholder?: string) => (
    <Cell
      of={of}
      at={WHOLE}
      field={{ name, label: LABELS.get(name) ?? name }}
      value={words[name] ?? ''}
      unit={unit}
      {...(placeholder === undefined ? {} : { placeholder })}
    />
  );
  return (
    <section className="card stack-tight" aria-label={say`Resin and fibre`}>
      <h2>{say`Resin and fibre`}</h2>
      <div className="wetting">
        <MaterialBox
          of={of}
          at={WHOLE}
          field="resin"
          label={say`Resin`}
          value={words['resin'] ?? ''}
          kinds={RESIN}
          materials={props.materials}
          aircraft={aircraft}
        />
        <Cell of={of} at={WHOLE} field={BY} value={words['by'] ?? 'mass'} />
        {cell('fraction', '%', isByVolume ? say`such as 50` : say`such as 60`)}
        {cell('fraction uncertainty', '%', `${USUAL_FRACTION_STD * 100} %`)}
        {cell('band low', '%', band?.from === 'shop default' ? usual(band.lowWf) : '')}
        {cell('band high', '%', band?.from === 'shop default' ? usual(band.highWf) : '')}
      </div>
      <Problems of={of} at={WHOLE} labelOf={(field) => LABELS.get(field) ?? field} />
      <p className="soft small">{rich`What comes out between the two usual fractions is taken for plausible. Left empty, they are those of the process ${term(props.process)}: common practice, no source.`}</p>
    </section>
  );
}
