/** Two aircraft on their scales: the demonstration while it is typed, the one with long names signed. All figures are invented. */
import { begunWith, checkField, fieldOf, readingField } from '#shared/aircraft-weighing/draft.ts';
import { CHECKS } from '#shared/aircraft-weighing/weighing.ts';

const SUPPORTS = ['k0001', 'k0002', 'k0003'] as const;
const PLACES = [
  ['1.10', '0'],
  ['3.95', '-1.05'],
  ['3.95', '1.05'],
] as const;
const RUNS = [
  ['k0001', ['59.3', '159.2', '158.1']],
  ['k0002', ['59.2', '159.4', '158.0']],
] as const;

export const DRAFT_WORDS: Readonly<Record<string, string>> = {
  ...begunWith('nosewheel and two mains'),
  reference: 'front face of the main frame',
  'reference station': '0',
  ...Object.fromEntries(
    SUPPORTS.flatMap((key, at) => [
      [fieldOf('support', key, 'x'), PLACES[at]?.[0] ?? ''],
      [fieldOf('support', key, 'y'), PLACES[at]?.[1] ?? ''],
    ]),
  ),
  ...Object.fromEntries(
    RUNS.flatMap(([run, grosses]) =>
      SUPPORTS.flatMap((key, at) => [[readingField(run, key, 'gross'), grosses[at] ?? '']]),
    ),
  ),
  ...Object.fromEntries(CHECKS.slice(0, 4).map((check) => [checkField(check, 'so'), 'yes'])),
};

const NAMES = ['Bugradaufstandspunkt auf der Hängewaagenbrücke vorne', 'Left main', 'Right main'] as const;

export const SIGNED = {
  ...{ kind: 'aircraft weighing', 'signed by': 'A. Überprüfungsbeauftragte der Musterzulassung' },
  'signed as': 'Wägeberechtigung 12, ausgestellt von der zuständigen Prüfstelle für Versuchsflugzeuge',
  weighed: {
    ...{ reference: 'Vorderseite des Hauptspants, gemessen am Lot der linken Bordwand', 'reference station': '2.5 m' },
    supports: NAMES.map((name, at) => ({
      ...{ name, is: at === 0 ? 'nosewheel' : 'main' },
      ...{ x: at === 0 ? '-1.4 m' : '1.45 m', y: `${[0, -1.05, 1.05][at]} m` },
    })),
    level: [0, 0.04].map((more) => ({
      readings: NAMES.map((support, at) => ({
        support,
        gross: `${(([20.4, 44.6, 44.1][at] ?? 0) + more).toFixed(2)} kg`,
        tare: '0.5 kg',
      })),
    })),
    corrections: [
      {
        way: 'off',
        name: 'Kraftstoff im Rumpfbehälter hinter der Besatzung',
        fluid: 'avgas',
        volume: '12 L',
        density: '0.72 kg/L',
        x: '3.4 m',
      },
    ],
    checklist: CHECKS.map((check) => ({ check, so: 'yes' })),
  },
};
