/** What a brief lists, each as a table: groups, parts and processes that drift, proposals. `most` rows of each; what is left out is said. */

import type { ReactNode } from 'react';
import { calledOnceWords, driftingProcesses, sparingProcesses } from '#shared/brief/process-lists.ts';
import { decisionWords, piecesWords } from '#shared/brief/tables/drift.ts';
import type { BriefContent, BriefProcess } from '#shared/contract/brief.ts';
import { dayWords } from '#shared/words/day.ts';
import { say, term } from '#shared/words/say.ts';
import { Day } from '../pieces/day.tsx';
import { FlagWord } from '../pieces/flag-word.tsx';
import { type Heading, TableCard } from '../pieces/table-card.tsx';
import { percent, type Shown } from '../pieces/units.ts';
import { NOBODY, ownerWords, readingWords } from '../words/brief.ts';
import { likelihoodInWords, STATE_WORDS, UNFIT_WORDS } from '../words/proposals.ts';
import { rich } from '../words/rich.ts';

export type Listed = { readonly content: BriefContent; readonly shown: Shown; readonly most: number };

export function GroupsTable({ content: { groups }, shown, most }: Listed) {
  const { mass, massWithStd, units } = shown;
  const byNeed = groups.toSorted((a, b) => (a.marginKg ?? Infinity) - (b.marginKg ?? Infinity));
  return (
    <Cut title={say`Groups against their targets`} count={groups.length} most={most}>
      <TableCard
        title={say`Groups against their targets`}
        headings={[
          say`Group`,
          { figures: say`predicted, ${units.mass}` },
          { figures: say`forecast, ${units.mass}` },
          { figures: say`target, ${units.mass}` },
          { figures: say`margin of the forecast, ${units.mass}` },
        ]}
        none={groups.length === 0 ? say`No part is in a group yet.` : undefined}
      >
        {byNeed.slice(0, most).map(({ group, predictedKg, forecastKg, forecastStdKg, targetKg, marginKg }) => {
          const forecast = massWithStd(forecastKg, forecastStdKg);
          return (
            <tr key={group}>
              <th scope="row">{group}</th>
              <td className="number">{mass(predictedKg)}</td>
              <td className="number">
                {forecast.value}
                {forecast.std === undefined ? '' : ` ± ${forecast.std}`}
              </td>
              <td className="number">{mass(targetKg)}</td>
              <td className="number">
                {marginKg === undefined ? '–' : `${marginKg < 0 ? '▲ ' : ''}${mass(marginKg, { sign: true })}`}
              </td>
            </tr>
          );
        })}
      </TableCard>
    </Cut>
  );
}

export function PartsTable({ content: { drift }, shown, most }: Listed) {
  const { mass, units } = shown;
  const { parts } = drift;
  return (
    <Cut title={say`Parts that drift`} count={parts.count} most={most}>
      <TableCard
        title={say`Parts that drift`}
        headings={[
          say`Part`,
          say`How`,
          { figures: say`off, ${units.mass}` },
          { figures: say`effect on margin, ${units.mass}` },
          { figures: say`effect on CG` },
          say`Cause, and what was noted`,
          say`Owner, and what was decided`,
        ]}
        none={parts.count === 0 ? say`No weighing is beyond its limit.` : undefined}
      >
        {parts.rows.slice(0, most).map((row) => (
          <tr key={`${row.number} ${row.weighingSeq}`}>
            <th scope="row">
              {row.number} {row.name}
              {row.quantity === 1 ? null : say`, piece ${piecesWords(row)}`}
              {row.isNew ? <span className="soft">{say` (new)`}</span> : null}
            </th>
            <td>
              <FlagWord flag={row.flag} />
            </td>
            <td className="number">
              {mass(row.differenceKg, { sign: true })}
              {row.differenceFraction === undefined ? null : (
                <span className="soft small"> {percent(row.differenceFraction, { sign: true })}</span>
              )}
            </td>
            <td className="number">{mass(row.marginEffectKg, { sign: true })}</td>
            <td className="number">{shown.cgEffect(row.cgEffectM)}</td>
            <td className="words">
              {term(row.cause) ?? NOBODY_SAID}
              {row.note === undefined ? null : <p className="soft small">{say`“${row.note}”`}</p>}
            </td>
            <td className="words">
              {ownerWords(row.owner)}
              <p className="small">{decisionWords(row)}</p>
            </td>
          </tr>
        ))}
      </TableCard>
    </Cut>
  );
}

const NOBODY_SAID = say`not said`;

export function ProcessesTable({ content: { drift }, shown, most }: Listed) {
  const { mass, units } = shown;
  const { manySmall, assemblies } = drift;
  const [drifting, sparing, once] = [driftingProcesses(drift), sparingProcesses(drift), calledOnceWords(drift)];
  return (
    <>
      <ProcessTable
        {...{ title: say`Processes that drift`, rows: drifting, shown, most }}
        none={say`No process has been seen to change.`}
      />
      {sparing.length === 0 ? null : (
        <ProcessTable {...{ title: say`Processes with allowance to spare`, rows: sparing, shown, most }} />
      )}
      {once === undefined ? null : <p className="soft small">{once}</p>}
      {assemblies.count + manySmall.count === 0 ? null : (
        <Cut title={say`Sums that drift`} count={assemblies.count + manySmall.count} most={most}>
          <TableCard
            title={say`Assemblies off their parts, and small differences that add up`}
            headings={[
              say`What`,
              { figures: say`off, ${units.mass}` },
              { figures: say`effect on CG` },
              say`Cause`,
              say`Owner`,
            ]}
          >
            {[
              ...assemblies.rows.map((row) => ({
                ...{ key: `assembly ${row.number}`, what: say`${row.number} ${row.name}, weighed as a whole` },
                ...{ offKg: row.residualKg, cgEffectM: row.cgEffectM, cause: undefined, owner: row.decidedBy },
              })),
              ...manySmall.rows.map((row) => ({
                ...{ key: `${row.by} ${row.name}`, what: say`${row.by} ${row.name}, ${row.partCount} parts in line` },
                ...{ offKg: row.sumKg, cgEffectM: row.cgEffectM },
                ...{ cause: row.cause?.found ?? row.cause?.cause, owner: row.cause?.by },
              })),
            ]
              .slice(0, most)
              .map(({ key, what, offKg, cgEffectM, cause, owner }) => (
                <tr key={key}>
                  <th scope="row">{what}</th>
                  <td className="number">{mass(offKg, { sign: true })}</td>
                  <td className="number">{shown.cgEffect(cgEffectM)}</td>
                  <td>{term(cause) ?? NOBODY_SAID}</td>
                  <td>{owner ?? NOBODY}</td>
                </tr>
              ))}
          </TableCard>
        </Cut>
      )}
    </>
  );
}

function ProcessTable(props: {
  readonly title: string;
  readonly rows: readonly BriefProcess[];
  readonly shown: Shown;
  readonly most: number;
  readonly none?: string;
}) {
  const { title, rows, shown, most } = props;
  const { mass, units } = shown;
  return (
    <Cut title={title} count={rows.length} most={most}>
      <TableCard
        title={title}
        headings={[
          say`Process`,
          say`How`,
          say`Since`,
          { figures: say`still to come` },
          { figures: say`adds, ${units.mass}` },
          say`Cause`,
          say`Owner`,
        ]}
        none={rows.length === 0 ? props.none : undefined}
      >
        {rows.slice(0, most).map((row) => (
          <tr key={row.process}>
            <th scope="row">
              {term(row.process)}
              {row.isNew ? <span className="soft">{say` (new)`}</span> : null}
            </th>
            <td className="unparted">{readingWords(row)}</td>
            <td>
              {row.signal.began.part}, <Day of={row.signal.began.on} />
            </td>
            <td className="number">{row.openPieces}</td>
            <td className="number">{row.openPieces === 0 ? '–' : mass(row.effectKg, { sign: true })}</td>
            <td>{row.cause === undefined ? NOBODY_SAID : (row.cause.found ?? row.cause.cause)}</td>
            <td>{ownerWords(row.owner)}</td>
          </tr>
        ))}
      </TableCard>
    </Cut>
  );
}

export function ProposalsTable({ content: { proposals }, shown, most }: Listed) {
  const { mass, units } = shown;
  const { weightedSavingKg, allSavingKg, count } = proposals.forecast;
  return (
    <Cut title={say`Proposals`} count={proposals.count} most={most}>
      <TableCard
        title={say`Proposals`}
        headings={[
          say`What`,
          say`Owner`,
          say`State`,
          say`Due`,
          { figures: say`likely` },
          { figures: say`saves, ${units.mass}` },
        ]}
        none={proposals.count === 0 ? say`Nothing is proposed.` : undefined}
      >
        {proposals.rows.slice(0, most).map((row) => (
          <tr key={row.proposalId}>
            <th scope="row">
              {row.title}
              {row.isNew ? <span className="soft">{say` (new)`}</span> : null}
            </th>
            <td>{row.owner}</td>
            <td>
              {row.unfit.length === 0
                ? STATE_WORDS[row.state]
                : say`no longer fits: ${row.unfit.map(({ part, why }) => `${part} ${UNFIT_WORDS[why]}`).join(', ')}`}
            </td>
            <td>{row.isOverdue ? say`▲ ${dayWords(row.due)}, overdue` : dayWords(row.due)}</td>
            <td className="number">{likelihoodInWords(row.likelihood)}</td>
            <td className="number">{mass(row.savingKg)}</td>
          </tr>
        ))}
      </TableCard>
      {count === 0 ? null : (
        <p>{rich`All that are open or agreed would save ${shown.massWithUnit(allSavingKg)}; by their likelihoods ${shown.massWithUnit(weightedSavingKg)}.`}</p>
      )}
    </Cut>
  );
}

/** The bridge told apart by group and by part. */
export function BridgeTables({ content: { bridge }, shown, most }: Listed) {
  const { mass, units } = shown;
  const headings: readonly Heading[] = [
    { figures: say`change, ${units.mass}` },
    { figures: say`effect on margin, ${units.mass}` },
  ];
  return (
    <>
      {(['groups', 'parts'] as const).map((by) => (
        <TableCard
          key={by}
          title={say`The same change, by ${by === 'groups' ? say`group` : say`part`}`}
          headings={[by === 'groups' ? say`Group` : say`Part`, ...headings]}
          none={bridge[by].length === 0 ? say`Nothing changed.` : undefined}
        >
          {bridge[by].slice(0, most).map((row) => (
            <tr key={`${row.of} ${row.name}`}>
              <th scope="row">{row.name === '' ? term(row.of) : row.name}</th>
              <td className="number">{mass(row.massKg, { sign: true })}</td>
              <td className="number">{mass(row.marginKg, { sign: true })}</td>
            </tr>
          ))}
        </TableCard>
      ))}
    </>
  );
}

/** How much has been on a scale, and what is open. */
export function WeighedAndOpen({ content, shown }: Listed) {
  const { figures, from, open } = content;
  const before = from.seq === 0 || from.weighedShare === undefined ? '' : say` (${percent(from.weighedShare)} then)`;
  return (
    <dl className="facts brief-facts">
      <div>
        <dt>{say`has been weighed`}</dt>
        <dd>
          {figures.weighedShare === undefined ? '–' : percent(figures.weighedShare)}
          {before}
        </dd>
      </div>
      <div>
        <dt>{say`in the aircraft`}</dt>
        <dd>{shown.massWithUnit(figures.installedKg)}</dd>
      </div>
      <div>
        <dt>{say`in stock`}</dt>
        <dd>{shown.massWithUnit(figures.inStockKg)}</dd>
      </div>
      <div>
        <dt>{say`open in all`}</dt>
        <dd>{open.count}</dd>
      </div>
      {open.counts.map(({ what, count }) => (
        <div key={what}>
          <dt>{what}</dt>
          <dd>{count}</dd>
        </div>
      ))}
      {open.overdueProposals === 0 ? null : (
        <div>
          <dt>{say`proposals overdue`}</dt>
          <dd>{open.overdueProposals}</dd>
        </div>
      )}
    </dl>
  );
}

function Cut(props: {
  readonly title: string;
  readonly count: number;
  readonly most: number;
  readonly children: ReactNode;
}) {
  const more = props.count - props.most;
  return (
    <>
      {props.children}
      {more > 0 ? (
        <p className="soft small">{rich`${props.title}: the ${props.most} largest of ${props.count}.`}</p>
      ) : null}
    </>
  );
}
