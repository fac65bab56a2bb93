/** Every weighing of the part by itself, newest first: those that count, and those that have been overtaken. */

import type { PartPageReport, PartWeighingReport } from '#shared/contract/part.ts';
import { showMassWithStd, showPercent } from '#shared/quantity/show.ts';
import { dayWords } from '#shared/words/day.ts';
import { say, term } from '#shared/words/say.ts';
import { FlagWord } from '../pieces/flag-word.tsx';
import { TableCard } from '../pieces/table-card.tsx';
import { minus, type Shown } from '../pieces/units.ts';

export function Weighings({ page, shown }: { readonly page: PartPageReport; readonly shown: Shown }) {
  const { weighings, part } = page;
  const { mass } = shown.units;
  return (
    <TableCard
      title={say`Weighings`}
      isWide
      headings={[
        say`Day`,
        say`Pieces`,
        say`Condition`,
        { figures: say`Net each (${mass})` },
        { figures: say`Expected (${mass})` },
        { figures: say`Difference (${mass})` },
        { figures: '(%)' },
        say`Flag`,
        say`Cause, decision, scale`,
        say`Entry`,
      ]}
      none={
        weighings.length > 0
          ? undefined
          : part.asAssembly === undefined
            ? say`None yet.`
            : say`As a whole, with what was in it: entry ${part.asAssembly.weighingSeq}, on ${dayWords(part.asAssembly.weighedOn)}.`
      }
    >
      {weighings.map((weighing) => (
        <Row key={weighing.seq} weighing={weighing} quantity={part.quantity} shown={shown} />
      ))}
    </TableCard>
  );
}

function Row(props: { readonly weighing: PartWeighingReport; readonly quantity: number; readonly shown: Shown }) {
  const { weighing, quantity, shown } = props;
  const { judgement, countsFor, pieces } = weighing;
  const { value, std } = showMassWithStd(weighing.netKg, weighing.netStdKg, shown.units.mass);
  const share = judgement?.differenceFraction;
  return (
    <tr className={countsFor.length === 0 ? 'overtaken' : ''}>
      <td className="unparted">{dayWords(weighing.happenedOn)}</td>
      <td>
        {quantity === 1 ? '1' : pieces.join(', ')}
        {countsFor.length === 0
          ? say` (overtaken)`
          : countsFor.length < pieces.length
            ? say` (counts: ${countsFor.join(', ')})`
            : ''}
      </td>
      <td>{term(weighing.condition)}</td>
      <td className="number">
        {value}
        {std === undefined ? '' : ` ± ${std}`}
      </td>
      <td className="number">{shown.mass(judgement?.expectedKg)}</td>
      <td className="number">{shown.mass(judgement?.differenceKg, { sign: true })}</td>
      <td className="number">{share === undefined ? '–' : minus(showPercent(share, { sign: true }))}</td>
      <td>{judgement === undefined ? '–' : <FlagWord flag={judgement.flag} />}</td>
      <td className="words">{remarksOf(weighing) || '–'}</td>
      <td className="unparted">
        {weighing.seq}, {weighing.by}
      </td>
    </tr>
  );
}

function remarksOf({ cause, decision, decidedBy, marks, scale, judgement, countsFor }: PartWeighingReport): string {
  const isOpen = countsFor.length > 0 && judgement?.flag.startsWith('drifting') === true;
  return [
    term(cause) ?? (isOpen ? say`no cause stated` : ''),
    decision === undefined ? (isOpen ? say`not decided` : '') : `${term(decision)} (${decidedBy})`,
    scale ?? '',
    ...marks.map((mark) =>
      mark.mark === 'check weight failed'
        ? say`in doubt: check weight failed on ${dayWords(mark.checkedOn)} (entry ${mark.checkSeq})`
        : say`in doubt: calibration was due on ${dayWords(mark.dueOn)}`,
    ),
  ]
    .filter((words) => words !== '')
    .join(' · ');
}
