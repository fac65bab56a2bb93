/**
 * The headline of a brief in plain words (rule B2), composed from its figures: how the forecast stands to the target, the CG to its range, what
 * changed since the earlier entry and why, what drifts, and how much has been weighed. One sentence leads; each other one stands by itself.
 */

import type { BriefContent, BriefHeadline, MassSituation, SinceSituation } from '#shared/contract/brief.ts';
import { chanceInWords } from '#shared/forecast/chance-words.ts';
import { scopeOf } from '#shared/forecast/scope.ts';
import { wholeNg } from '#shared/quantity/exact.ts';
import { showPercent } from '#shared/quantity/show.ts';
import { dayWords } from '#shared/words/day.ts';
import { LOCALE, say, term } from '#shared/words/say.ts';
import { type CgStand, cgStandOf } from './cg-stand.ts';
import { driftingProcesses } from './process-lists.ts';
import { type Say, sayIn } from './say.ts';

export type HeadlineFacts = Pick<
  BriefContent,
  'aircraft' | 'from' | 'to' | 'figures' | 'forecast' | 'bridge' | 'drift' | 'aircraftWeighedOn'
>;

/** From this chance on the target is taken to be met, as everywhere. */
const LIKELY = 0.9;

export function briefHeadline(facts: HeadlineFacts): BriefHeadline {
  const show = sayIn({ mass: facts.aircraft.massUnit, length: facts.aircraft.lengthUnit });
  const mass = massSituation(facts);
  const cg = cgStandOf(facts.figures, facts.forecast);
  const since = sinceSituation(facts);
  const rest =
    mass === 'nothing estimated'
      ? [sinceWords(facts, since, show)]
      : [
          ...(facts.aircraftWeighedOn === undefined
            ? []
            : [
                say`The aircraft was weighed on ${dayWords(facts.aircraftWeighedOn)}; what happened later is counted on top of that.`,
              ]),
          cgWords(cg, show),
          sinceWords(facts, since, show),
          ...driftWords(facts, show),
          weighedWords(facts),
        ];
  return {
    mass,
    cg: cg.situation,
    since,
    lead: `${capital(massWords(facts, mass, show))}${alsoCg(cg, show)}.`,
    rest: rest.map(capital),
  };
}

function massSituation({ forecast: { predictedKg, forecastKg, targets } }: HeadlineFacts): MassSituation {
  if (predictedKg === 0 && forecastKg === 0) return 'nothing estimated';
  if (targets === undefined) return 'no target';
  if (scopeOf({ predictedKg, emptyMassKg: targets.emptyMassKg }).isIncomplete) return 'not whole yet';
  if (wholeNg(forecastKg) > wholeNg(targets.emptyMassKg)) return 'over target';
  const keepsReserve = wholeNg(forecastKg) <= wholeNg(targets.emptyMassKg) - wholeNg(targets.reserveKg);
  return keepsReserve && targets.withinTarget >= LIKELY ? 'under target' : 'at risk';
}

function sinceSituation({ from, to }: HeadlineFacts): SinceSituation {
  if (to.seq === from.seq) return 'nothing new';
  if (from.seq === 0) return 'first';
  const changeNg = wholeNg(to.predictedKg) - wholeNg(from.predictedKg);
  if (changeNg === 0) return 'no change';
  return changeNg > 0 ? 'grew' : 'fell';
}

function massWords({ aircraft: { name }, forecast }: HeadlineFacts, situation: MassSituation, show: Say): string {
  const { forecastKg, forecastStdKg, predictedKg, targets } = forecast;
  const at = show.massWithStd(forecastKg, forecastStdKg);
  const alike = (massKg: number) => show.massAlike(massKg, forecastStdKg);
  if (situation === 'nothing estimated')
    return say`nothing to tell yet: no part of ${name} has an estimate or a weighing`;
  if (targets === undefined) return say`${name} is forecast at ${at} empty; no target is set`;
  const { emptyMassKg, reserveKg, marginKg, withinTarget } = targets;
  const target = say`its target of ${alike(emptyMassKg)}`;
  const offKg = forecastKg - emptyMassKg;
  const off =
    wholeNg(offKg) === 0
      ? say`right on ${target}`
      : `${alike(Math.abs(offKg))} ${offKg > 0 ? say`above` : say`below`} ${target}`;
  const chance = chanceInWords(withinTarget);
  switch (situation) {
    case 'not whole yet': {
      const { share } = scopeOf({ predictedKg, emptyMassKg });
      return say`not the whole aircraft yet: the listed parts of ${name} are predicted at ${showPercent(share)} % of ${target}, and forecast at ${at}`;
    }
    case 'over target':
      return say`over target: ${name} is forecast at ${at} empty, ${off}`;
    case 'at risk':
      return wholeNg(marginKg) < 0
        ? say`at risk: ${name} is forecast at ${at} empty, ${off}, and ${alike(-marginKg)} of its reserve of ${alike(reserveKg)} is used up`
        : say`at risk: ${name} is forecast at ${at} empty, ${off}, with a chance of ${chance.share} to be within it`;
    default:
      return say`under target: ${name} is forecast at ${at} empty, ${off}${reserveKg > 0 ? say`, its reserve untouched` : ''}`;
  }
}

/** What the lead adds where the CG is not plainly in its range. */
function alsoCg(cg: CgStand, show: Say): string {
  if (cg.situation === 'out of range')
    return say`, and its CG is ${show.distance(cg.offM)} ${term(cg.end)} of its range`;
  if (cg.situation === 'near its edge') return say`, and its CG is near the ${term(cg.end)} end of its range`;
  return '';
}

function cgWords(cg: CgStand, show: Say): string {
  if (cg.situation === 'not known') return say`the CG is not known: no mass has a station.`;
  const at = show.stationWithStd(cg.xM, cg.stdM);
  const is = say`the CG is ${term(cg.of)} at ${at}`;
  switch (cg.situation) {
    case 'no range':
      return say`${is}; no range is set.`;
    case 'out of range':
      return say`${is}, ${show.distance(cg.offM)} ${term(cg.end)} of its range (${rangeWords(cg, show)}).`;
    case 'near its edge':
      return say`${is}, inside its range (${rangeWords(cg, show)}) but no farther from its ${term(cg.end)} end than it is uncertain.`;
    default:
      return say`${is}, inside its range (${rangeWords(cg, show)}).`;
  }
}

function rangeWords({ forwardM, aftM }: CgStand, show: Say): string {
  if (forwardM === undefined) return say`up to ${show.station(aftM)}`;
  if (aftM === undefined) return say`from ${show.station(forwardM)}`;
  return say`${show.station(forwardM)} to ${show.station(aftM)}`;
}

/** So many causes are named. */
const MOST_CAUSES = 3;

function sinceWords({ from, to, bridge: { causes } }: HeadlineFacts, since: SinceSituation, show: Say): string {
  const entry = say`entry ${from.seq}${from.lastDay === undefined ? '' : ` (${dayWords(from.lastDay)})`}`;
  if (since === 'nothing new') return say`nothing new: no entry was recorded since ${entry}.`;
  const target = targetWords(causes, show);
  if (since === 'first')
    return say`this covers all ${to.seq.toLocaleString(LOCALE)} entries from the beginning of the ledger.`;
  const count = to.seq - from.seq;
  if (since === 'no change')
    return say`since ${entry} ${count === 1 ? say`one entry was` : say`${count.toLocaleString(LOCALE)} entries were`} recorded, and the predicted empty weight is the same${target}.`;
  const largest = causes
    .map((effect) => ({ ...effect, massNg: wholeNg(effect.massKg) }))
    .filter(({ massNg }) => massNg !== 0)
    .sort((a, b) => Math.abs(b.massNg) - Math.abs(a.massNg))
    .slice(0, MOST_CAUSES)
    .map(
      ({ cause, isCorrection, massKg }) =>
        `${term(cause)}${isCorrection ? say` (corrected)` : ''} ${massKg > 0 ? say`added` : say`took off`} ${show.change(massKg)}`,
    );
  const forecastKg = to.forecastKg - from.forecastKg;
  const forecast =
    wholeNg(forecastKg) === 0
      ? say`the forecast stayed`
      : say`the forecast ${forecastKg > 0 ? say`grew` : say`fell`} by ${show.change(forecastKg)}`;
  return say`since ${entry} the predicted empty weight ${term(since)} by ${show.change(to.predictedKg - from.predictedKg)} (${largest.join(', ')}), and ${forecast}${target}.`;
}

/** What a target that moved did to the margin. */
function targetWords(causes: BriefContent['bridge']['causes'], show: Say): string {
  const marginKg = causes
    .filter(({ cause }) => cause === 'target revised')
    .reduce((sum, effect) => sum + effect.marginKg + effect.massKg, 0);
  if (wholeNg(marginKg) === 0) return '';
  return say`; a revised target ${marginKg > 0 ? say`gave` : say`took`} ${show.change(marginKg)} of margin`;
}

function driftWords({ drift }: HeadlineFacts, show: Say): readonly string[] {
  const { parts } = drift;
  const called = driftingProcesses(drift);
  if (parts.count === 0 && called.length === 0) return [say`no part and no process drifts.`];
  return [
    ...called.map(({ process, signal, cause, openPieces, effectKg }) => {
      const why =
        cause === undefined ? say`nobody has said why` : say`the cause is stated: ${cause.found ?? term(cause.cause)}`;
      const more =
        openPieces === 0 || wholeNg(effectKg) === 0
          ? ''
          : say`; what is still to come ${openPieces === 1 ? say`(one piece)` : say`(${openPieces.toLocaleString(LOCALE)} pieces)`} is expected ${show.change(effectKg)} ${effectKg > 0 ? say`heavier` : say`lighter`} for it`;
      return say`${term(process)} runs ${term(signal.direction)} since ${signal.began.part} (${dayWords(signal.began.on)}), and ${why}${more}.`;
    }),
    ...partsWords(parts, show),
  ];
}

function partsWords({ count, rows }: HeadlineFacts['drift']['parts'], show: Say): readonly string[] {
  const [largest] = rows;
  if (largest === undefined) return [];
  const { number, name, marginEffectKg } = largest;
  const effect = say`${number} ${name} ${marginEffectKg < 0 ? say`takes` : say`gives`} ${show.change(marginEffectKg)} ${marginEffectKg < 0 ? say`from` : say`to`} the margin`;
  if (count === 1) return [say`one weighing is beyond its limit: ${effect}.`];
  const isNew = rows.filter((row) => row.isNew).length;
  return [
    say`${count.toLocaleString(LOCALE)} weighings are beyond their limits${isNew === 0 ? '' : say`, ${isNew} of them new`}; the largest: ${effect}.`,
  ];
}

function weighedWords({ from, to }: HeadlineFacts): string {
  const share = to.weighedShare ?? 0;
  const before =
    from.seq === 0 || from.weighedShare === undefined ? '' : say` (${showPercent(from.weighedShare)} % then)`;
  return say`${showPercent(share)} % of the mass has been weighed${from.seq === to.seq ? '' : before}.`;
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
