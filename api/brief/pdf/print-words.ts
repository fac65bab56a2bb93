/** Words and figures as the pages of a brief print them: true minus signs, units tied to their figures, and letters that the font has. */
import type { BriefContent } from '#shared/contract/brief.ts';
import {
  CG_CHANGE_DECIMALS,
  showFixed,
  showLength,
  showLengthWithStd,
  showMass,
  showMassWithStd,
  showPercent,
  type WithStd,
} from '#shared/quantity/show.ts';
import { LENGTH_UNIT_M } from '#shared/quantity/units.ts';

const NOT_KNOWN = '–';
const MISSING = '\uFFFD';

/** What is in none of these ranges Open Sans does not have: Latin, Greek and Cyrillic of today, and the signs of prose and figures. */
const OTHERS =
  /(?!\p{Mn})[^\n\u0020-\u007e\u00a0-\u017f\u0192\u01a0\u01a1\u01af\u01b0\u01fa-\u01ff\u0218-\u021b\u0384-\u038a\u038c\u038e-\u03a1\u03a3-\u03ce\u0400-\u0486\u0488-\u0513\u1e80-\u1e85\u1e9e\u1ea0-\u1ef9\u2009\u2013-\u2015\u2018-\u201e\u2020-\u2022\u2026\u2030\u2032\u2033\u2039\u203a\u20ac\u2122\u2202\u2212\u2248\u2260\u2264\u2265]/gu;

/** Open Sans has the letters of European languages; others become the sign for one that cannot be shown, which the last page explains. */
export function printable(words: string): string {
  return words
    .normalize('NFC')
    .replaceAll('\u202f', '\u00a0')
    .replaceAll('\u2011', '-')
    .replaceAll('\t', ' ')
    .replace(/\r\n?/g, '\n')
    .replace(OTHERS, MISSING);
}

export function hasMissing(words: string): boolean {
  return printable(words).includes(MISSING);
}

export type Told = ReturnType<typeof toldIn>;

/** Figures in the units of the aircraft: those without a unit are for columns whose heading has it. */
export function toldIn({ massUnit, lengthUnit }: BriefContent['aircraft']) {
  const mass = (massKg: number | undefined) => (massKg === undefined ? NOT_KNOWN : minus(showMass(massKg, massUnit)));
  const massChange = (massKg: number | undefined) =>
    massKg === undefined ? NOT_KNOWN : minus(showMass(massKg, massUnit, { sign: true }));
  const station = (stationM: number | undefined) =>
    stationM === undefined ? NOT_KNOWN : minus(showLength(stationM, lengthUnit));
  return {
    massUnit,
    lengthUnit,
    mass,
    massChange,
    station,
    massWithStd: (massKg: number, stdKg: number) => plusMinus(showMassWithStd(massKg, stdKg, massUnit)),
    /** To the decimals that its uncertainty leaves. */
    massAlike: (massKg: number, stdKg: number) => minus(showMassWithStd(massKg, stdKg, massUnit).value),
    stationWithStd: (stationM: number | undefined, stdM: number | undefined) =>
      stationM === undefined ? NOT_KNOWN : plusMinus(showLengthWithStd(stationM, stdM, lengthUnit)),
    cgChange: (lengthM: number | undefined) =>
      lengthM === undefined
        ? NOT_KNOWN
        : minus(showFixed(lengthM / LENGTH_UNIT_M[lengthUnit], CG_CHANGE_DECIMALS[lengthUnit], { sign: true })),
    perCent: (fraction: number | undefined) => (fraction === undefined ? NOT_KNOWN : minus(showPercent(fraction))),
    perCentChange: (fraction: number | undefined) =>
      fraction === undefined ? NOT_KNOWN : minus(showPercent(fraction, { sign: true })),
  };
}

function plusMinus({ value, std }: WithStd): string {
  return std === undefined ? minus(value) : `${minus(value)}\u00a0±\u00a0${std}`;
}

export function minus(figure: string): string {
  return figure.replace(/^-/, '\u2212');
}
