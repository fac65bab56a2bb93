/** What the part counts for, how it stands to its estimate, where it is, and what it does to the aircraft. */

import type { PartPageReport } from '#shared/contract/part.ts';
import { showLengthWithStd, showMassWithStd } from '#shared/quantity/show.ts';
import { dayWords } from '#shared/words/day.ts';
import { say, term } from '#shared/words/say.ts';
import { Figure } from '../ledger/figure.tsx';
import { minus, percent, type Shown } from '../pieces/units.ts';

export function PartFigures({ page, shown }: { readonly page: PartPageReport; readonly shown: Shown }) {
  return (
    <section className="headline" aria-label={say`Where it stands`}>
      {page.whole === undefined ? null : <Whole whole={page.whole} asAssembly={page.part.asAssembly} shown={shown} />}
      {hasOwnMass(page) ? (
        <>
          <CountsFor page={page} shown={shown} />
          <Difference page={page} shown={shown} />
          <Arm page={page} shown={shown} />
        </>
      ) : null}
      <OnAircraft page={page} shown={shown} />
    </section>
  );
}

type Shows = { readonly page: PartPageReport; readonly shown: Shown };

/** An assembly without a figure of its own is the sum of what is in it. */
function hasOwnMass({ estimates, weighings, whole }: PartPageReport): boolean {
  return whole === undefined || estimates.length > 0 || weighings.length > 0;
}

function Whole(props: {
  readonly whole: NonNullable<PartPageReport['whole']>;
  readonly asAssembly: PartPageReport['part']['asAssembly'];
  readonly shown: Shown;
}) {
  const { whole, asAssembly, shown } = props;
  const { value, std } = showMassWithStd(whole.predictedKg, whole.predictedStdKg, shown.units.mass);
  return (
    <Figure
      name={say`Predicted with its parts`}
      value={`${minus(value)}${std === undefined ? '' : ` ± ${std}`}`}
      unit={shown.units.mass}
      facts={[
        { name: say`parts in it`, value: String(whole.partCount) },
        { name: say`CG x of it all`, value: shown.lengthWithUnit(whole.cgXM) },
        ...(asAssembly === undefined
          ? []
          : [
              { name: say`weighed as a whole, ${term(asAssembly.condition)}`, value: dayWords(asAssembly.weighedOn) },
              { name: say`will weigh, what was in it`, value: shown.massWithUnit(asAssembly.projectedKg) },
              { name: say`beyond its parts`, value: shown.massWithUnit(asAssembly.residualKg, { sign: true }) },
            ]),
      ]}
    />
  );
}

function CountsFor({ page, shown }: Shows) {
  const { part, estimates } = page;
  const { units, massWithUnit } = shown;
  const { value, std } = showMassWithStd(part.predictedKg, part.predictedStdKg, units.mass);
  const [estimate] = estimates;
  const facts = [
    { name: say`without allowance`, value: massWithUnit(part.basicKg) },
    { name: say`pieces weighed`, value: say`${part.weighed.length} of ${part.quantity}` },
    { name: say`pieces built in`, value: say`${part.installed.length} of ${part.quantity}` },
  ];
  if (estimate !== undefined)
    facts.push({
      name: part.quantity === 1 ? say`estimate` : say`estimate each`,
      value: massWithUnit(estimate.massKg),
    });
  return (
    <Figure
      name={say`Predicted`}
      value={`${minus(value)}${std === undefined ? '' : ` ± ${std}`}`}
      unit={units.mass}
      facts={facts}
    />
  );
}

function Difference({ page, shown }: Shows) {
  const { differenceKg, differenceFraction, flag } = page.part;
  if (differenceKg === undefined)
    return (
      <Figure name={say`Against the estimate`} value="–" unit="">
        {page.weighings.length === 0 ? say`Not weighed yet.` : say`There is no estimate to compare with.`}
      </Figure>
    );
  const isDrifting = flag?.startsWith('drifting') === true;
  return (
    <Figure
      name={say`Against the estimate`}
      value={shown.mass(differenceKg, { sign: true })}
      unit={shown.units.mass}
      mark={isDrifting ? 'bad' : flag === 'in line' ? 'good' : undefined}
      word={term(flag)}
      facts={[
        ...(differenceFraction === undefined
          ? []
          : [{ name: say`of what was expected`, value: percent(differenceFraction, { sign: true }) }]),
        { name: say`effect on margin`, value: shown.massWithUnit(page.marginEffectKg, { sign: true }) },
        { name: say`effect on CG x`, value: lengthSigned(page.cgEffectM, shown) },
      ]}
    />
  );
}

function Arm({ page, shown }: Shows) {
  const { part, armStdM } = page;
  if (part.xM === undefined)
    return <Figure name={say`Arm x`} value="–" unit="">{say`Not known: what it weighs is left out of the CG.`}</Figure>;
  const { value, std } = showLengthWithStd(part.xM, armStdM, shown.units.length);
  return (
    <Figure
      name={say`Arm x`}
      value={`${minus(value)}${std === undefined ? '' : ` ± ${std}`}`}
      unit={shown.units.length}
      word={part.armIsMeasured ? say`measured` : say`estimated`}
      facts={[
        { name: 'y', value: shown.lengthWithUnit(part.yM) },
        { name: 'z', value: shown.lengthWithUnit(part.zM) },
      ]}
    />
  );
}

function OnAircraft({ page, shown }: Shows) {
  const { aircraft, without } = page;
  // What stands beside "without it" is the part alone: what is in an assembly would stay.
  if (!hasOwnMass(page)) return null;
  const share = aircraft.predictedKg > 0 ? page.part.predictedKg / aircraft.predictedKg : undefined;
  const shiftM = aircraft.cgXM === undefined || without.cgXM === undefined ? undefined : aircraft.cgXM - without.cgXM;
  return (
    <Figure
      name={say`Of the aircraft`}
      value={share === undefined ? '–' : percent(share).replace(/\u00a0%$/, '')}
      unit={share === undefined ? '' : '%'}
      facts={[
        { name: say`aircraft without it`, value: shown.massWithUnit(without.predictedKg) },
        { name: say`CG x without it`, value: shown.lengthWithUnit(without.cgXM) },
        { name: say`it moves the CG by`, value: lengthSigned(shiftM, shown) },
      ]}
    />
  );
}

function lengthSigned(lengthM: number | undefined, shown: Shown): string {
  return shown.lengthWithUnit(lengthM, { sign: true });
}
