/** The envelope with everything that lies in it or outside, and the same as a table. */

import { useCallback } from 'react';
import type { AnswerReport, LoadingReport } from '#shared/contract/loading.ts';
import type { LoadingLimits } from '#shared/loading/limits.ts';
import { showFixed } from '#shared/quantity/show.ts';
import { LENGTH_UNIT_M } from '#shared/quantity/units.ts';
import { say } from '#shared/words/say.ts';
import { Picture } from '../ledger/picture.tsx';
import { minus, type Shown } from '../pieces/units.ts';
import { letterOf } from '../where/along-config.ts';
import { rich } from '../words/rich.ts';
import { envelopeConfig } from './envelope-config.ts';

export function EnvelopePicture(props: {
  readonly report: LoadingReport;
  readonly limits: LoadingLimits;
  readonly answer: AnswerReport;
  /** On which empty weight, in words. */
  readonly of: string;
  /** The verdict, for those who cannot see the picture and for the file. */
  readonly summary: string;
  readonly shown: Shown;
}) {
  const { report, limits, answer, shown } = props;
  const configure = useCallback(
    () => envelopeConfig({ report, envelope: limits.envelope, answer, shown }),
    [report, limits, answer, shown],
  );
  return (
    <Picture
      title={say`Every permitted loading against the envelope, on the ${props.of} empty weight`}
      summary={props.summary}
      configure={configure}
    >
      <PointsTable {...props} />
    </Picture>
  );
}

type Row = { readonly what: string; readonly massKg: number; readonly xM: number };

function PointsTable({ report, limits, answer, shown }: Parameters<typeof EnvelopePicture>[0]) {
  const { chord } = report;
  const { envelope } = limits;
  const rows: readonly Row[] = [
    ...envelope.points.map(({ massKg, at }, corner) => ({
      what: say`envelope, corner ${corner + 1}`,
      massKg,
      xM: envelope.by === 'station' || chord === undefined ? at : chord.lemacM + (at / 100) * chord.macM,
    })),
    ...report.empties.map(({ name, massKg, xM }) => ({ what: say`empty, ${name}`, massKg, xM })),
    ...answer.cases.flatMap(({ name, start, landing, state }, at) => [
      { what: say`case ${letterOf(at)} ${name}, ${state}: start`, ...start },
      { what: say`case ${letterOf(at)} ${name}: landing`, ...landing },
    ]),
    ...answer.worst.map(({ way, side, isOutside, loaded }) => ({
      what: say`worst ${way}${side === undefined ? '' : say` at the edge from corner ${side}`}, ${isOutside ? say`outside` : say`inside`}`,
      ...loaded,
    })),
    ...answer.reach.flatMap((stretch) =>
      stretch.flatMap(({ massKg, forwardM, aftM }) => [
        { what: say`most forward of this mass`, massKg, xM: forwardM },
        { what: say`most aft of this mass`, massKg, xM: aftM },
      ]),
    ),
  ];
  const { mass, units } = shown;
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">{say`What`}</th>
          <th scope="col" className="number">
            {rich`Mass, ${units.mass}`}
          </th>
          <th scope="col" className="number">
            {rich`CG x, ${units.length}`}
          </th>
          {chord === undefined ? null : <th scope="col" className="number">{say`CG, % MAC`}</th>}
        </tr>
      </thead>
      <tbody>
        {rows.map(({ what, massKg, xM }, at) => (
          // Rows have no name of their own: several are of one mass.
          // biome-ignore lint/suspicious/noArrayIndexKey: the list is only ever read
          <tr key={at}>
            <th scope="row">{what}</th>
            <td className="number">{mass(massKg)}</td>
            <td className="number">
              {minus(showFixed(xM / LENGTH_UNIT_M[units.length], units.length === 'm' ? 4 : 2))}
            </td>
            {chord === undefined ? null : (
              <td className="number">{minus(showFixed(((xM - chord.lemacM) / chord.macM) * 100, 2))}</td>
            )}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
