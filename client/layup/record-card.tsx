/** The schedule as the part's estimate: what it is now, what it will be, and what that does to the aircraft. */
import { say, term } from '#shared/words/say.ts';
import { Field } from '../pieces/controls.tsx';
import { percent, plusMinus, type Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import type { EstimateToBe, ToRecord } from './use-estimate.ts';

type Shows = ToRecord & { readonly estimate: EstimateToBe; readonly shown: Shown };

export function RecordCard(props: Shows) {
  const { of, aircraft, page, estimate } = props;
  const field = (name: string, label: string, unit: string, hint: string) => (
    <Field
      label={label}
      unit={unit}
      hint={hint}
      value={of.beside[name] ?? ''}
      onChange={(text) => of.setBeside(name, text)}
      problem={estimate.problemOf(name)}
      autoComplete="off"
    />
  );
  const usual = percent(estimate.after.shopGrowth);
  return (
    <section className="card record-card" aria-label={say`As the estimate`}>
      <div className="stack-tight">
        <h2>{say`As the estimate`}</h2>
        <BeforeAfter {...props} />
      </div>
      <div className="stack-tight">
        {field('flash', say`Flash`, aircraft.massUnit, say`Comes off after release.`)}
        {field(
          'allowance',
          say`Allowance`,
          '%',
          say`Left empty: ${usual}, what the shop adds to ${term(page.part.process)} that is calculated.`,
        )}
        {estimate.before === undefined
          ? field('x', say`Station x`, aircraft.lengthUnit, say`May stay empty for now.`)
          : null}
      </div>
    </section>
  );
}

/** Rule R2: what one piece counts for while it is not weighed. */
function countsForKg(of: { massKg: number; laterKg: number; growth: number; laterGrowth: number }): number {
  return of.massKg + (of.massKg - of.laterKg) * of.growth + of.laterKg * of.laterGrowth;
}

function BeforeAfter({ estimate: toBe, shown, page, of }: Shows) {
  const { before, after } = toBe;
  const { estimate, growth } = after;
  const isWhole = of.read.layUp !== undefined;
  const mass = (massKg: number | undefined, stdKg = 0) =>
    massKg === undefined ? '–' : plusMinus(shown.massWithStd(massKg, stdKg), '').trim();
  const afterKg = estimate === undefined ? undefined : countsForKg({ ...estimate, growth, laterGrowth: growth });
  const beforeKg = before === undefined ? undefined : countsForKg(before);
  const rows = [
    { name: say`Each`, was: mass(before?.massKg, before?.massStdKg), is: mass(estimate?.massKg, estimate?.massStdKg) },
    { name: say`goes on later`, was: mass(before?.laterKg), is: mass(estimate?.laterKg) },
    { name: say`of that, with the finish`, was: mass(before?.finishKg), is: mass(estimate?.finishKg) },
    { name: say`flash`, was: mass(before?.flashKg), is: mass(after.flashKg) },
    { name: say`with its allowance`, was: mass(beforeKg), is: mass(afterKg) },
  ];
  return (
    <>
      <table className="before-after">
        <thead>
          <tr>
            <th scope="col">{rich`${shown.units.mass} a piece`}</th>
            <th scope="col" className="number">{say`Now`}</th>
            <th scope="col" className="number">{say`By this lay-up`}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ name, was, is }) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td className="number">{was}</td>
              <td className="number">{is}</td>
            </tr>
          ))}
          <tr>
            <th scope="row">{say`allowance`}</th>
            <td className="number">{before === undefined ? '–' : percent(before.growth)}</td>
            <td className="number">{percent(growth)}</td>
          </tr>
          <tr>
            <th scope="row">{say`evidence`}</th>
            <td className="number">{term(before?.evidence) ?? say`no estimate`}</td>
            <td className="number">{say`calculated`}</td>
          </tr>
        </tbody>
      </table>
      {isWhole ? <OnHeadline {...{ page, shown }} changeKg={(afterKg ?? 0) - (beforeKg ?? 0)} /> : null}
    </>
  );
}

/** Of weighed pieces the scale counts, and the sum is not that simple. */
function OnHeadline({ page, shown, changeKg }: Pick<Shows, 'page' | 'shown'> & { readonly changeKg: number }) {
  const { part, aircraft } = page;
  if (part.weighed.length > 0 || part.asAssembly !== undefined)
    return (
      <p className="soft small">{say`Pieces of it have been weighed: they count as weighed, whatever the estimate.`}</p>
    );
  const wholeKg = changeKg * part.quantity;
  return (
    <p className="small">{rich`Predicted empty weight: ${shown.massWithUnit(aircraft.predictedKg)} now, with this ${<strong>{shown.massWithUnit(aircraft.predictedKg + wholeKg)}</strong>} (${shown.mass(wholeKg, { sign: true })}${part.quantity === 1 ? '' : say`, ${part.quantity} pieces`}).`}</p>
  );
}
