/** A lay-up for who reads it: every line in words with its mass. */

import type { PartPageReport } from '#shared/contract/part.ts';
import { lineInWords } from '#shared/layup/line-words.ts';
import type { Line } from '#shared/layup/schedule.ts';
import { say } from '#shared/words/say.ts';
import { percent, type Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import { FIELD_LABELS, KIND_WORDS, ON_WORDS } from './line-fields.ts';

export function ReadOnly({ page, shown }: { readonly page: PartPageReport; readonly shown: Shown }) {
  const { layUp } = page;
  if (layUp === undefined) return <p className="card">{say`No lay-up is recorded for this part yet.`}</p>;
  const { schedule, computed } = layUp;
  return schedule.regions.map((region, at) => (
    <section key={region.name} className="card stack-tight" aria-label={region.name}>
      <h2>{region.name}</h2>
      <div className="scroll-across" tabIndex={0} role="region" aria-label={say`Lines of ${region.name}`}>
        <table>
          <thead>
            <tr>
              <th scope="col">{say`Line`}</th>
              <th scope="col">{say`Material`}</th>
              <th scope="col">{say`How much`}</th>
              <th scope="col">{say`Goes on`}</th>
              <th scope="col" className="number">{rich`Mass, ± (${shown.units.mass})`}</th>
              <th scope="col" className="number">{say`Share`}</th>
            </tr>
          </thead>
          <tbody>
            {computed.lines
              .filter((line) => line.region === at)
              .map((line) => {
                const stated = region.lines[line.line];
                const { value, std } = shown.massWithStd(line.massKg, line.stdKg);
                return (
                  <tr key={line.line}>
                    <th scope="row">{KIND_WORDS[line.is]}</th>
                    <td>{line.material}</td>
                    <td>{stated === undefined ? '' : howMuch(stated)}</td>
                    <td>{ON_WORDS[line.on]}</td>
                    <td className="number">
                      {value}
                      {std === undefined ? '' : ` ± ${std}`}
                    </td>
                    <td className="number">{percent(line.share)}</td>
                  </tr>
                );
              })}
          </tbody>
        </table>
      </div>
    </section>
  ));
}

function howMuch(line: Line): string {
  const { is: _, material: __, on: ___, ...rest } = lineInWords(line);
  return Object.entries(rest)
    .map(([field, text]) => `${(FIELD_LABELS.get(field) ?? field).toLowerCase()} ${text}`)
    .join(', ');
}
