/** An aircraft of names that are long, with and without spaces, and with umlauts. All of it is invented. */
import { LIMITS } from '#db/demo/limits.ts';
import type { AircraftDoors } from './doors.ts';

export const LONG_AIRCRAFT = {
  name: 'Großflächenwasserflugzeugversuchsträger „Überführungsschwalbe“, zweites Muster',
  datum:
    'Vorderkante der Rumpfspitzenverkleidung, im rechten Winkel zur Oberkante der Längsträgerführung vor der Stufe des Schwimmerrumpfes',
};

const GROUPS = [
  'Höhenleitwerksdämpfungsflossenbefestigungsbeschlagsgruppehi',
  'Flügel mit allem, was an ihm hängt, Streben und Wölbklappen',
  'Rumpf',
] as const;
const PROCESSES = ['resin-infused', 'wet lay-up', 'machined', 'bonding'] as const;

/** Nearly as long as they may be: with spaces, without, short. */
const NAMES = [
  'Querruderdifferenzierungsumlenkhebellagerbockverstärkungsrippe',
  'Outer panel of the port wing, upper skin between the second and the third rib',
  'Fünfachsgefräster Übergangsbeschlag für die Höhenflossenabstützung, rückwärtige Lage',
  'Rib',
] as const;

export const LONGEST = 'TRAGFLÄCHENVERBINDUNGSBOLZENSICHERUNGSBLECHAUSFÜHRUNG-LINKS1';
const SCALE = 'Hängewaage über dem Arbeitsplatz der Faserverbundwerkstatt';

export async function tellLongNames(aircraft: AircraftDoors): Promise<void> {
  await aircraft.record({
    ...{ kind: 'targets', 'empty mass': '120 kg', reserve: '2 kg', 'cg forward': '3.3 m', 'cg aft': '3.8 m' },
    groups: Object.fromEntries(GROUPS.map((group, at) => [group, `${60 - at * 12} kg`])),
  });
  await aircraft.record({ kind: 'scale', scale: SCALE, calibrated: '2026-01-12', resolution: '2 g' });
  await aircraft.record({ kind: 'material', is: 'resin', name: RESIN, density: '1150 kg/m³' });
  await aircraft.record({ kind: 'material', is: 'fabric', name: FABRIC, areal: '204 g/m²', density: '1780 kg/m³' });
  for (let at = 0; at < 28; at += 1) await tellPart(aircraft, at);
  await aircraft.record({ kind: 'loading', limits: LIMITS });
}

async function tellPart(aircraft: AircraftDoors, at: number): Promise<void> {
  const part = numberAt(at);
  const group = GROUPS[at % GROUPS.length];
  const name = NAMES[at % NAMES.length];
  const process = PROCESSES[at % PROCESSES.length];
  const assembly = at % 7 === 0 ? {} : { assembly: numberAt(at - (at % 7)) };
  await aircraft.record({
    kind: 'part added',
    number: part,
    name,
    group,
    process,
    quantity: at % 5 === 1 ? 2 : 1,
    ...assembly,
  });
  const x = `${(1.5 + (at % 9) * 0.5).toFixed(2)} m`;
  if (at === 1) {
    await aircraft.record({ kind: 'estimate', part, x, layUp: LAY_UP });
    return;
  }
  await aircraft.record({ kind: 'estimate', part, x, estimate: `${3 + (at % 4)} kg`, 'std uncertainty': '3 %' });
  if (at % 7 === 0 || at % 3 === 0) return;
  const gross = `${((3 + (at % 4)) * (at % 4 === 2 ? 1.16 : 0.97)).toFixed(2)} kg`;
  const shop = { scale: SCALE, lot: 'HARZGEBINDE-ÜBERLAGERT-2026-01-NACHGEPRÜFT-FREIGEGEBEN-0007', operator: 'JUT' };
  await aircraft.record({ kind: 'weighing', part, gross, condition: 'trimmed', piece: '1', ...shop, remark: REMARK });
}

function numberAt(at: number): string {
  return at === 2 ? LONGEST : `WF-${at + 1}`;
}

const RESIN = 'Epoxidharz für die Handlaminierung, warmhärtend, mit Füllstoff nach Vorschrift';
const FABRIC = 'Kohlenstofffaserköpergewebeverstärkungsmattenzuschnittsrollenware';
const REMARK =
  'Nach dem Besäumen gewogen; an der Hinterkante steht noch Harz an, Donaudampfschifffahrtsgesellschaftskapitänsmützenabzeichenhalter fehlt.';
const LAY_UP = {
  resin: RESIN,
  'fibre by mass': '55 %',
  regions: [
    {
      ...{ name: 'Oberschale zwischen der zweiten und der dritten Rippe, außen', area: '3.2 m²', perimeter: '7.6 m' },
      lines: [{ is: 'ply', material: FABRIC, layers: '4', angle: '0/90' }],
    },
  ],
};
