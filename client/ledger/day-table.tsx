/** The days of a chart as a table, newest first, for those who cannot see the picture. */

import type { DayReport } from '#shared/contract/reports.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';

export type DayColumn = { readonly heading: string; readonly cell: (day: DayReport) => string };

export function DayTable(props: { readonly days: readonly DayReport[]; readonly columns: readonly DayColumn[] }) {
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">{say`Day`}</th>
          {props.columns.map(({ heading }) => (
            <th key={heading} scope="col" className="number">
              {heading}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {props.days.toReversed().map((day) => (
          <tr key={day.day}>
            <td>{dayWords(day.day)}</td>
            {props.columns.map(({ heading, cell }) => (
              <td key={heading} className="number">
                {cell(day)}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
