/**
 * Three invented scales and their fixtures: what the display showed, and how the person at it typed it.
 */
import { MASS_UNIT_KG } from '#shared/quantity/units.ts';
import type { Random } from './random.ts';

/** The fields of a weighing that come from the scale. */
export type ScaleWords = {
  readonly gross: string;
  readonly tare?: string;
  readonly scale: 'bench' | 'floor' | 'hand';
  /** What carried the load: its tare is the same each time. */
  readonly fixture?: string;
  readonly resolution?: string;
};

/** How a load stood there: bare, or on something whose tare is taken off. */
export type Load = {
  readonly netKg: number;
  readonly hung: boolean;
  readonly onFixture: boolean;
  /** Types grams where a load is small, and pounds with ounces where a scale shows pounds. */
  readonly fineHand: boolean;
};

const MOST_ON_BENCH_KG = 12;

export function readScale(load: Load, random: Random): ScaleWords {
  if (load.hung) return readHandScale(load);
  if (load.netKg + (load.onFixture ? BOARD_KG : 0) > MOST_ON_BENCH_KG) return readFloorScale(load, random);
  return readBenchScale(load);
}

/** To 1 g; shows kilograms or grams. */
function readBenchScale({ netKg, onFixture, fineHand }: Load): ScaleWords {
  const isSmall = netKg < 2.5;
  const tareKg = onFixture ? (isSmall ? TRAY_KG : BOARD_KG) : 0;
  const inGrams = fineHand && netKg + tareKg < 3;
  const show = (kg: number) => (inGrams ? `${(kg * 1000).toFixed(0)} g` : `${kg.toFixed(3)} kg`);
  const carried = { tare: show(tareKg), fixture: isSmall ? 'tray' : 'board' };
  return { gross: show(netKg + tareKg), ...(onFixture ? carried : {}), scale: 'bench' };
}

/** To 20 g; read three times, since the load is lifted on and off by hand. */
export function readFloorScale({ netKg, onFixture }: Pick<Load, 'netKg' | 'onFixture'>, random: Random): ScaleWords {
  const tareKg = onFixture ? CRADLE_KG : HOIST_BEAM_KG;
  const readings = [0, 1, 2].map(() => Math.round((netKg + tareKg) / FLOOR_STEP_KG + 0.7 * random.normal()));
  return {
    gross: readings.map((steps) => `${(steps * FLOOR_STEP_KG).toFixed(2)} kg`).join(' / '),
    tare: `${tareKg.toFixed(2)} kg`,
    scale: 'floor',
    fixture: onFixture ? 'cradle' : 'hoist beam',
    resolution: '0.02 kg',
  };
}

/** Shows pounds to 0.02 lb, or pounds and ounces to half an ounce; the load hangs in a sling. */
function readHandScale({ netKg, fineHand }: Load): ScaleWords {
  const grossKg = netKg + SLING_KG;
  if (!fineHand) {
    const show = (kg: number) => `${(Math.round(kg / MASS_UNIT_KG.lb / 0.02) * 0.02).toFixed(2)} lb`;
    return { gross: show(grossKg), tare: show(SLING_KG), scale: 'hand', fixture: 'sling', resolution: '0.02 lb' };
  }
  const halfOunces = Math.round((grossKg / MASS_UNIT_KG.oz) * 2);
  const pounds = Math.floor(halfOunces / 32);
  return {
    gross: `${pounds} lb ${((halfOunces - pounds * 32) / 2).toFixed(1)} oz`,
    tare: `${(Math.round((SLING_KG / MASS_UNIT_KG.oz) * 2) / 2).toFixed(1)} oz`,
    scale: 'hand',
    fixture: 'sling',
    resolution: '0.5 oz',
  };
}

const TRAY_KG = 0.318;
const BOARD_KG = 0.742;
const CRADLE_KG = 3.46;
const HOIST_BEAM_KG = 6.84;
const SLING_KG = 0.327;
const FLOOR_STEP_KG = 0.02;
