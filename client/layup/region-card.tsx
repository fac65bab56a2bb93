/** A region of the part: its area, and the lines that are laid up on it. */

import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { type RegionDraft, unitsFor } from '#shared/layup/draft.ts';
import { USUAL_AREA_STD } from '#shared/layup/from-words.ts';
import { LINE_KINDS } from '#shared/layup/schedule.ts';
import { showFixed } from '#shared/quantity/show.ts';
import { say } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import { plusMinus } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import { Cell, Problems } from './cell.tsx';
import { KIND_WORDS, type LineField } from './line-fields.ts';
import { DRAGGED, kindOf, LineRow, type LineShows } from './line-row.tsx';

const FIELDS: readonly LineField[] = [
  { name: 'name', label: say`Region`, isText: true, placeholder: say`Skin, rim, spar cap …` },
  { name: 'area', label: say`Area` },
  { name: 'area uncertainty', label: say`Area, ±`, placeholder: `${USUAL_AREA_STD * 100} %` },
  { name: 'perimeter', label: say`Perimeter`, placeholder: say`for a bevel` },
];
const LABELS = new Map(FIELDS.map(({ name, label }) => [name, label]));

/** What a geometry says of the part. */
export type Outlined = { readonly areaM2: number; readonly edgeM: number | undefined };

export function RegionCard(
  props: LineShows & {
    readonly aircraft: AircraftReport;
    readonly region: RegionDraft;
    readonly at: number;
    readonly outlined: Outlined | undefined;
  },
) {
  const { of, region, aircraft, shown, outlined } = props;
  const { key, words, lines } = region;
  const unitOf = unitsFor(aircraft.lengthUnit);
  const name =
    words['name']?.trim() === '' || words['name'] === undefined ? say`Region ${props.at + 1}` : words['name'];
  const take = () => {
    if (outlined === undefined) return;
    of.set(key, 'area', `${Number(outlined.areaM2.toPrecision(6))} m²`);
    if (outlined.edgeM !== undefined) of.set(key, 'perimeter', `${Number(outlined.edgeM.toPrecision(6))} m`);
  };
  return (
    <section className="card region" aria-label={name} data-region={key}>
      <div className="region-head">
        {FIELDS.map((field) => (
          <Cell
            key={field.name}
            of={of}
            at={key}
            field={field}
            value={words[field.name] ?? ''}
            unit={unitOf(field.name)}
          />
        ))}
        <span className="region-acts">
          {outlined === undefined ? null : (
            <Button
              slim
              onPress={take}
            >{rich`Take area${outlined.edgeM === undefined ? '' : say` and perimeter`} of the geometry`}</Button>
          )}
          {of.draft.regions.length < 2 ? null : (
            <Button slim kind="quiet" aria-label={say`Remove the region ${name}`} onPress={() => of.removeRegion(key)}>
              ✕
            </Button>
          )}
        </span>
      </div>
      <Problems of={of} at={key} labelOf={(field) => LABELS.get(field) ?? field} />
      {lines.length === 0 ? <p className="soft small">{say`No line yet: begin with a ply or a core.`}</p> : null}
      <ol className="lines">
        {lines.map((line, at) => (
          <LineRow
            key={line.key}
            {...{ of, aircraft, shown, line, at }}
            materials={props.materials}
            isAlike={at > 0 && kindOf(line.words) === kindOf(lines[at - 1]?.words ?? {})}
          />
        ))}
      </ol>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: for the mouse only; the keyboard moves a line from any of its fields. */}
      <div
        className="region-foot"
        onDragOver={(event) => {
          if (event.dataTransfer.types.includes(DRAGGED)) event.preventDefault();
        }}
        onDrop={(event) => {
          const dragged = event.dataTransfer.getData(DRAGGED);
          if (dragged !== '') of.moveLine(dragged, { region: props.at, line: lines.length });
        }}
      >
        <span className="row add-line" role="group" aria-label={say`Add to ${name}`}>
          {LINE_KINDS.map((is) => (
            <button
              key={is}
              type="button"
              className="button slim"
              data-place={is === 'ply' ? `${key} add` : undefined}
              onClick={() => of.addLine(key, is)}
            >
              + {KIND_WORDS[is]}
            </button>
          ))}
        </span>
        <RegionSum {...props} />
      </div>
    </section>
  );
}

function RegionSum({ of, region, shown }: Pick<LineShows, 'of' | 'shown'> & { readonly region: RegionDraft }) {
  const computed = of.read.regionOf.get(region.key);
  if (computed === undefined || region.lines.length === 0) return null;
  const { massKg, stdKg, arealKgM2, laminateM } = computed;
  return (
    <p className="region-sum">
      <strong>{plusMinus(shown.massWithStd(massKg, stdKg), shown.units.mass)}</strong>, {showFixed(arealKgM2 * 1000, 0)}
      {'\u00a0'}g/m²
      {laminateM > 0 ? say`, plies ${showFixed(laminateM * 1000, 2)}\u00a0mm thick when cured` : ''}
    </p>
  );
}
