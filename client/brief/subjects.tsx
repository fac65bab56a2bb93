/** The subjects of a brief in their order: the page shows them one below the other, the projector one at a time. Of kept content alone. */

import type { FunctionComponent } from 'react';
import { shownByProcessesKg } from '#shared/brief/process-lists.ts';
import type { BriefSubject } from '#shared/contract/brief.ts';
import { say } from '#shared/words/say.ts';
import { Figure } from '../ledger/figure.tsx';
import { percent, plusMinus, tied } from '../pieces/units.ts';
import { cgMark, massMark } from '../words/brief.ts';
import { BridgePicture, CgPicture, GrowthPicture } from './brief-pictures.tsx';
import {
  BridgeTables,
  GroupsTable,
  type Listed,
  PartsTable,
  ProcessesTable,
  ProposalsTable,
  WeighedAndOpen,
} from './brief-tables.tsx';
import '../ledger/ledger.css';

export type Subject = {
  readonly key: string;
  readonly title: string;
  /** What is shown has a heading of its own. */
  readonly hasTitle: boolean;
  readonly remarks: BriefSubject | undefined;
  readonly Body: FunctionComponent<Listed>;
  /** Only on the page: the projector has no room for it. */
  readonly More?: FunctionComponent<Listed>;
};

export const SUBJECTS: readonly Subject[] = [
  { key: 'stand', title: say`Where we stand`, hasTitle: false, remarks: 'all', Body: Stand },
  { key: 'growth', title: say`Growth`, hasTitle: true, remarks: 'growth', Body: GrowthPicture },
  { key: 'cg', title: say`Centre of gravity`, hasTitle: true, remarks: 'CG', Body: CgPicture },
  {
    key: 'bridge',
    title: say`What changed, and why`,
    hasTitle: true,
    remarks: 'bridge',
    Body: BridgePicture,
    More: BridgeTables,
  },
  { key: 'groups', title: say`Groups`, hasTitle: true, remarks: undefined, Body: GroupsTable },
  { key: 'parts', title: say`Parts that drift`, hasTitle: true, remarks: 'drift', Body: PartsTable },
  { key: 'processes', title: say`Processes that drift`, hasTitle: true, remarks: undefined, Body: ProcessesTable },
  { key: 'proposals', title: say`Proposals`, hasTitle: true, remarks: 'proposals', Body: ProposalsTable },
  { key: 'weighed', title: say`Weighed, and still open`, hasTitle: false, remarks: 'weighed', Body: WeighedAndOpen },
];

function Stand({ content, shown }: Listed) {
  const { headline, figures, forecast } = content;
  const { massWithStd, massWithUnit, lengthWithStd, units } = shown;
  const { targets } = forecast;
  const x = forecast.cg.x;
  const band = (massKg: number) => massWithStd(massKg, forecast.forecastStdKg).value;
  return (
    <div className="stack">
      <p className="brief-lead">{tied(headline.lead)}</p>
      <div className="brief-figures">
        <Figure
          name={say`Predicted`}
          {...massWithStd(figures.predictedKg, figures.predictedStdKg)}
          unit={units.mass}
          facts={[
            { name: say`basic mass`, value: massWithUnit(figures.basicKg) },
            { name: say`growth allowance`, value: massWithUnit(figures.allowanceKg, { sign: true }) },
          ]}
        />
        <Figure
          name={say`Forecast`}
          {...massWithStd(forecast.forecastKg, forecast.forecastStdKg)}
          unit={units.mass}
          {...massMark(headline)}
          facts={[
            { name: say`basic mass`, value: massWithUnit(figures.basicKg) },
            { name: say`growth allowance`, value: massWithUnit(figures.allowanceKg, { sign: true }) },
            {
              name: say`what processes have shown`,
              value: massWithUnit(shownByProcessesKg(content), { sign: true }),
            },
            {
              name: say`nine times in ten`,
              value: say`${band(forecast.lowKg)} to ${band(forecast.highKg)}\u00a0${units.mass}`,
            },
            ...(targets === undefined ? [] : [{ name: say`target`, value: massWithUnit(targets.emptyMassKg) }]),
            ...(targets === undefined || targets.reserveKg === 0
              ? []
              : [{ name: say`of it in reserve`, value: massWithUnit(targets.reserveKg) }]),
          ]}
        />
        <Figure
          name={say`CG x, forecast`}
          {...lengthWithStd(x?.atM, x?.stdM)}
          unit={units.length}
          {...cgMark(headline)}
          facts={[
            ...(figures.cg.xM === undefined
              ? []
              : [
                  {
                    name: say`predicted`,
                    value: plusMinus(lengthWithStd(figures.cg.xM, figures.cg.xStdM), units.length),
                  },
                ]),
            ...(targets?.cgForwardM === undefined && targets?.cgAftM === undefined
              ? []
              : [
                  {
                    name: say`range`,
                    value: say`${shown.length(targets.cgForwardM)} to ${shown.lengthWithUnit(targets.cgAftM)}`,
                  },
                ]),
          ]}
        />
        <Figure
          name={say`Weighed`}
          value={figures.weighedShare === undefined ? '–' : percent(figures.weighedShare).replace(/\u00a0%$/, '')}
          unit="%"
          facts={[{ name: say`still open`, value: String(content.open.count) }]}
        />
      </div>
      <ul className="brief-sentences">
        {headline.rest.map((sentence) => (
          <li key={sentence}>{tied(sentence)}</li>
        ))}
      </ul>
    </div>
  );
}
