/** What a brief is, says and warns of, in two columns of words (rule B4). */

import { endWords, stampOf, standingWords } from '#shared/brief/standing.ts';
import type { Brief } from '#shared/contract/brief.ts';
import { say } from '#shared/words/say.ts';
import { type BriefTable, tableOf } from './table.ts';

type Row = readonly [what: string, words: string | undefined];

export function aboutTable(brief: Brief): BriefTable {
  const { content, issued, remarks } = brief;
  const { aircraft, from, to, headline, cautions } = content;
  const rows: readonly Row[] = [
    ['aircraft', aircraft.name],
    ...(aircraft.isInvented ? [['note', 'Invented for demonstration: no real aircraft.'] as const] : []),
    ['state', stampOf(brief) ?? 'issued'],
    ['standing', standingWords(brief)],
    ...cautions.map((words) => ['caution', words] as const),
    ['headline', headline.lead],
    ...headline.rest.map((words) => ['headline', words] as const),
    ...Object.entries(remarks).map(([subject, words]) => [`remark on ${subject}`, words] as const),
    ['stations from', aircraft.datum],
    ['made from', endWords(to)],
    [say`hash of that entry`, to.hash],
    ['since', endWords(from)],
    [say`hash of that entry`, from.hash],
    [say`hash of the brief`, issued?.hash],
    ['brief id', brief.briefId],
  ];
  return tableOf(
    'about',
    aircraft,
    rows.filter(([, words]) => words !== undefined && words !== ''),
    [
      { heading: say`what`, kind: 'text', cell: ([what]) => what },
      { heading: say`words`, kind: 'text', cell: ([, words]) => words },
    ],
  );
}
