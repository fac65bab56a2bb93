/** What a brief lists, each as a table: groups, parts and processes that drift, proposals. `most` rows of each; what is left out is said. */
import type { ReactNode } from 'react';
import type { BriefContent } from '#shared/contract/brief.ts';
import { FlagWord } from '../pieces/flag-word.tsx';
import { type Heading, TableCard } from '../pieces/table-card.tsx';
import { percent, type Shown } from '../pieces/units.ts';
import { NOBODY, ownerWords, readingWords } from '../words/brief.ts';
import { likelihoodInWords, STATE_WORDS, UNFIT_WORDS } from '../words/proposals.ts';

export type Listed = { readonly content: BriefContent; readonly shown: Shown; readonly most: number };

export function GroupsTable({ content: { groups }, shown, most }: Listed) {
  const { mass, massWithStd, units } = shown;
  const byNeed = groups.toSorted((a, b) => (a.marginKg ?? Infinity) - (b.marginKg ?? Infinity));
  return (
    <Cut title="Groups against their targets" count={groups.length} most={most}>
      <TableCard
        title="Groups against their targets"
        headings={[
          'Group',
          { figures: `predicted ${units.mass}` },
          { figures: `forecast ${units.mass}` },
          { figures: `target ${units.mass}` },
          { figures: `margin ${units.mass}` },
        ]}
        none={groups.length === 0 ? 'No part is in a group yet.' : undefined}
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
    <Cut title="Parts that drift" count={parts.count} most={most}>
      <TableCard
        title="Parts that drift"
        headings={[
          'Part',
          'How',
          { figures: `off ${units.mass}` },
          { figures: `margin ${units.mass}` },
          { figures: 'effect on CG' },
          'Cause',
          'Owner',
        ]}
        none={parts.count === 0 ? 'No weighing is beyond its limit.' : undefined}
      >
        {parts.rows.slice(0, most).map((row) => (
          <tr key={`${row.number} ${row.weighingSeq}`}>
            <th scope="row">
              {row.number} {row.name}
              {row.isNew ? <span className="soft"> (new)</span> : null}
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
            <td>{row.cause ?? NOBODY_SAID}</td>
            <td>{ownerWords(row.owner)}</td>
          </tr>
        ))}
      </TableCard>
    </Cut>
  );
}

const NOBODY_SAID = 'not said';

export function ProcessesTable({ content: { drift }, shown, most }: Listed) {
  const { mass, units } = shown;
  const { processes, manySmall, assemblies } = drift;
  return (
    <>
      <Cut title="Processes that drift" count={processes.length} most={most}>
        <TableCard
          title="Processes that drift"
          headings={[
            'Process',
            'How',
            'Since',
            { figures: 'still to come' },
            { figures: `adds ${units.mass}` },
            'Cause',
            'Owner',
          ]}
          none={processes.length === 0 ? 'No process has been seen to change.' : undefined}
        >
          {processes.slice(0, most).map((row) => (
            <tr key={row.process}>
              <th scope="row">
                {row.process}
                {row.isNew ? <span className="soft"> (new)</span> : null}
              </th>
              <td>{readingWords(row)}</td>
              <td>
                {row.signal.began.part}, {row.signal.began.on}
              </td>
              <td className="number">{row.openPieces}</td>
              <td className="number">{row.openPieces === 0 ? '–' : mass(row.effectKg, { sign: true })}</td>
              <td>{row.cause === undefined ? NOBODY_SAID : (row.cause.found ?? row.cause.cause)}</td>
              <td>{ownerWords(row.owner)}</td>
            </tr>
          ))}
        </TableCard>
      </Cut>
      {assemblies.count + manySmall.count === 0 ? null : (
        <Cut title="Sums that drift" count={assemblies.count + manySmall.count} most={most}>
          <TableCard
            title="Assemblies off their parts, and small differences that add up"
            headings={['What', { figures: `off ${units.mass}` }, { figures: 'effect on CG' }, 'Cause', 'Owner']}
          >
            {[
              ...assemblies.rows.map((row) => ({
                ...{ key: `assembly ${row.number}`, what: `${row.number} ${row.name}, weighed as a whole` },
                ...{ offKg: row.residualKg, cgEffectM: row.cgEffectM, cause: undefined, owner: row.decidedBy },
              })),
              ...manySmall.rows.map((row) => ({
                ...{ key: `${row.by} ${row.name}`, what: `${row.by} ${row.name}, ${row.partCount} parts in line` },
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
                  <td>{cause ?? NOBODY_SAID}</td>
                  <td>{owner ?? NOBODY}</td>
                </tr>
              ))}
          </TableCard>
        </Cut>
      )}
    </>
  );
}

export function ProposalsTable({ content: { proposals }, shown, most }: Listed) {
  const { mass, units } = shown;
  const { weightedSavingKg, allSavingKg, count } = proposals.forecast;
  return (
    <Cut title="Proposals" count={proposals.count} most={most}>
      <TableCard
        title="Proposals"
        headings={['What', 'Owner', 'State', 'Due', { figures: 'likely' }, { figures: `saves ${units.mass}` }]}
        none={proposals.count === 0 ? 'Nothing is proposed.' : undefined}
      >
        {proposals.rows.slice(0, most).map((row) => (
          <tr key={row.proposalId}>
            <th scope="row">
              {row.title}
              {row.isNew ? <span className="soft"> (new)</span> : null}
            </th>
            <td>{row.owner}</td>
            <td>
              {row.unfit.length === 0
                ? STATE_WORDS[row.state]
                : `no longer fits: ${row.unfit.map(({ part, why }) => `${part} ${UNFIT_WORDS[why]}`).join(', ')}`}
            </td>
            <td>{row.isOverdue ? `▲ ${row.due}, overdue` : row.due}</td>
            <td className="number">{likelihoodInWords(row.likelihood)}</td>
            <td className="number">{mass(row.savingKg)}</td>
          </tr>
        ))}
      </TableCard>
      {count === 0 ? null : (
        <p>
          All that are open or agreed would save {shown.massWithUnit(allSavingKg)}; by their likelihoods{' '}
          {shown.massWithUnit(weightedSavingKg)}.
        </p>
      )}
    </Cut>
  );
}

/** The bridge told apart by group and by part. */
export function BridgeTables({ content: { bridge }, shown, most }: Listed) {
  const { mass, units } = shown;
  const headings: readonly Heading[] = [{ figures: `change ${units.mass}` }, { figures: `margin ${units.mass}` }];
  return (
    <>
      {(['groups', 'parts'] as const).map((by) => (
        <TableCard
          key={by}
          title={`The same change, by ${by === 'groups' ? 'group' : 'part'}`}
          headings={[by === 'groups' ? 'Group' : 'Part', ...headings]}
          none={bridge[by].length === 0 ? 'Nothing changed.' : undefined}
        >
          {bridge[by].slice(0, most).map((row) => (
            <tr key={`${row.of} ${row.name}`}>
              <th scope="row">{row.name === '' ? row.of : row.name}</th>
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
  const before = from.seq === 0 || from.weighedShare === undefined ? '' : ` (${percent(from.weighedShare)} then)`;
  return (
    <dl className="facts brief-facts">
      <div>
        <dt>has been weighed</dt>
        <dd>
          {figures.weighedShare === undefined ? '–' : percent(figures.weighedShare)}
          {before}
        </dd>
      </div>
      <div>
        <dt>in the aircraft</dt>
        <dd>{shown.massWithUnit(figures.installedKg)}</dd>
      </div>
      <div>
        <dt>in stock</dt>
        <dd>{shown.massWithUnit(figures.inStockKg)}</dd>
      </div>
      <div>
        <dt>open in all</dt>
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
          <dt>proposals overdue</dt>
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
        <p className="soft small">
          {props.title}: the {props.most} largest of {props.count}.
        </p>
      ) : null}
    </>
  );
}
