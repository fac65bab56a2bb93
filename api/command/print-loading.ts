/** `show loading` as text (rules C1-C5): the verdict for every empty weight, the worst loadings and the cases. Outside is said first. */
import type { AnswerReport, BandReport, LoadingReport } from '#shared/contract/loading.ts';
import { bandVerdictOf, caseText, loadsText, verdictOf, worstText } from '#shared/loading/say.ts';
import { type DisplayUnits, showLength, showMass } from '#shared/quantity/show.ts';
import { say, term } from '#shared/words/say.ts';
import { tableText } from './table-text.ts';

export function loadingText({ stated, answers, band }: LoadingReport, units: DisplayUnits): string {
  if (stated === undefined) return `${say`Loading: no limits are stated yet.`}\n`;
  const looked = answers.filter(({ empty }) => empty.name === 'predicted' || empty.name === 'forecast');
  const forecast = looked.at(-1);
  if (forecast === undefined)
    return `${say`Loading: the aircraft has no CG yet, or no chord for an envelope by per cent MAC.`}\n`;
  return [
    ...looked.map((answer) => saidText(answer, units)),
    ...(band === undefined ? [] : [bandText(band, units)]),
    '',
    tableText(answers, [
      { heading: say`Empty weight`, align: 'left', cell: ({ empty }) => term(empty.name) },
      { heading: units.mass, align: 'right', cell: ({ empty }) => showMass(empty.massKg, units.mass) },
      { heading: say`CG x ${units.length}`, align: 'right', cell: ({ empty }) => showLength(empty.xM, units.length) },
      { heading: say`is`, align: 'left', cell: ({ state }) => term(state) },
      {
        heading: say`worst permitted loading`,
        align: 'left',
        cell: ({ worstOfAll }) =>
          worstOfAll === undefined
            ? ''
            : `${worstText(worstOfAll, units)}: ${loadsText(worstOfAll.loaded.loads, units)}`,
      },
    ]),
    ...(forecast.cases.length === 0
      ? []
      : [
          tableText(forecast.cases, [
            { heading: say`Case, on the forecast`, align: 'left', cell: ({ name }) => name },
            { heading: say`is`, align: 'left', cell: (one) => caseText(one, units) },
          ]),
        ]),
    `${say`Planning figures, not approved data: no flight on them. The completed aircraft is weighed by local rules.`}\n`,
  ].join('\n');
}

function saidText(answer: AnswerReport, units: DisplayUnits): string {
  const { headline, worst, cases } = verdictOf(answer, units);
  const said = [headline, worst, cases].filter((words) => words !== undefined).join(' ');
  return say`On the ${term(answer.empty.name)} empty weight: ${said}`;
}

function bandText(band: BandReport, units: DisplayUnits): string {
  const { headline, worst } = bandVerdictOf(band, units);
  return worst === undefined ? headline : `${headline} ${worst}`;
}
