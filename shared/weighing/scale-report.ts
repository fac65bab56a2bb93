/** The scales of a shop and the weighings that are in doubt because of them, as plain data (rules W1, W12). */
import type { ScaleReport } from '#shared/contract/drift.ts';
import type { StatementOf } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { latestSeq, type Standing } from '#shared/ledger/part-state.ts';
import { passesCheck, type Scale, scaleKey, scaleMarks, scalesOf } from './scales.ts';

/** One row a scale, in order of name; a scale that was only named in weighings has a row too. */
export function scaleReport(ledger: Ledger): readonly ScaleReport[] {
  const scales = scalesOf(ledger);
  const weighings = new Map<string, { name: string; on: OnScale[] }>();
  for (const standing of onScales(ledger)) {
    const { scale } = standing.statement;
    if (scale === undefined) continue;
    const row = weighings.get(scaleKey(scale)) ?? { name: scale, on: [] };
    row.on.push(standing);
    weighings.set(scaleKey(scale), row);
  }
  const keys = [...new Set([...scales.keys(), ...weighings.keys()])].sort((a, b) => a.localeCompare(b, 'en'));
  return keys.map((key) => {
    const known: Scale | undefined = scales.get(key);
    const on = weighings.get(key)?.on ?? [];
    const last = known?.calibrations.at(-1)?.statement;
    const check = known?.checks.at(-1);
    return {
      scale: last?.scale ?? known?.name ?? weighings.get(key)?.name ?? key,
      capacityKg: last?.capacityKg,
      resolutionKg: last?.resolutionKg,
      gainStd: last?.gainStd ?? 0,
      calibratedOn: last?.calibratedOn,
      dueOn: last?.dueOn,
      lastCheckOn: check?.happenedOn,
      lastCheckPassed: check === undefined ? undefined : passesCheck(check.statement),
      weighingCount: on.length,
      marked: on
        .map((standing) => ({
          seq: latestSeq(standing),
          part: ledger.books.byPart.get(standing.statement.partId)?.state.definition?.number,
          marks: [...scaleMarks(scales, { ...standing, scale: standing.statement.scale })],
        }))
        .filter(({ marks }) => marks.length > 0)
        .sort((a, b) => a.seq - b.seq),
    };
  });
}

type OnScale = Standing<StatementOf<'weighing'>> | Standing<StatementOf<'assembly weighing'>>;

function onScales(ledger: Ledger): readonly OnScale[] {
  return [...ledger.books.byPart.values()].flatMap(({ standings }) =>
    [...standings.values()].filter(
      (standing): standing is typeof standing & OnScale =>
        standing.statement.kind === 'weighing' || standing.statement.kind === 'assembly weighing',
    ),
  );
}
