/**
 * What the shop was like when a piece was laid up: drum and hardener, hands, temperature and humidity (rule W10). Invented. The
 * heater is moved beside the infusion mould, and a new hardener opened, in the week in which infused parts begin to come out rich.
 */
import type { Process } from '#shared/ledger/entry.ts';
import type { WorkingDay } from './calendar.ts';
import { type PartRow, RESIN_RICH } from './part-row.ts';
import type { Words } from './plan.ts';
import type { Random } from './random.ts';
import { isLaidUp } from './releases.ts';
import { PEOPLE } from './story.ts';

type Shop = {
  /** A drum of resin or a roll of prepreg, and for how many weeks one lasts. */
  readonly lot: string;
  readonly lotWeeks: number;
  /** A batch of hardener lasts longer than a drum; prepreg has none. */
  readonly batch?: string;
};

const SHOPS: Readonly<Partial<Record<Process, Shop>>> = {
  'resin-infused': { lot: 'RI', lotWeeks: 5, batch: 'HI' },
  'wet lay-up': { lot: 'RL', lotWeeks: 8, batch: 'HL' },
  prepreg: { lot: 'PR', lotWeeks: 12 },
};
const BATCH_WEEKS = 20;

/** The fields of a weighing that tell how the piece was made; none for what was not laid up. */
export function circumstancesOf(row: PartRow, madeOn: WorkingDay, random: Random): Words {
  const shop = SHOPS[row.process];
  if (shop === undefined || !isLaidUp(row.process)) return {};
  const week = Math.floor(madeOn / 5);
  const isBesideHeater = row.process === RESIN_RICH.process && week >= RESIN_RICH.fromWeek;
  const temperatureC = isBesideHeater ? 26.6 + 0.7 * random.normal() : 21.2 + 0.8 * random.normal();
  const humidityPercent = (isBesideHeater ? 38 : 46) + 4 * random.normal();
  return {
    lot: numbered(shop.lot, week, shop.lotWeeks),
    ...(shop.batch === undefined ? {} : { batch: numbered(shop.batch, week, BATCH_WEEKS) }),
    operator: random.oneOf(PEOPLE.layUp),
    temperature: `${temperatureC.toFixed(1)} °C`,
    humidity: `${humidityPercent.toFixed(0)} %`,
  };
}

function numbered(series: string, week: number, weeksEach: number): string {
  return `${series}-${String(1 + Math.floor(week / weeksEach)).padStart(2, '0')}`;
}
