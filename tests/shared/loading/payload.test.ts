/** What goes in with full tanks, and how much fuel with full seats (rule C1). The figures are invented. */
import { describe, expect, it } from 'vitest';
import { payloadReport } from '#shared/loading/payload.ts';
import { baggageOf, limitsOf, PILOT, STATIONS, seatOf, tankOf } from './make-limits.ts';

const EMPTY = { massKg: 350 };

describe('payload', () => {
  it('[C1] with full tanks: what the maximum weight leaves, people and baggage together', () => {
    const { withFullTanks } = payloadReport(limitsOf(), EMPTY);
    expect(withFullTanks).toEqual({ fuelKg: 72, massKg: 228, stoppedBy: 'maximum weight' });
  });

  it('[C1] with full tanks: the zero-fuel maximum or the stations may stop it before', () => {
    expect(payloadReport(limitsOf({ zeroFuelMaximumKg: 500 }), EMPTY).withFullTanks).toMatchObject({ massKg: 150, stoppedBy: 'zero-fuel maximum' }); // biome-ignore format: one line
    const stations = [PILOT, baggageOf('Hold', 3, 20), tankOf('Tank', 2)];
    expect(payloadReport(limitsOf({ stations }), EMPTY).withFullTanks).toMatchObject({ massKg: 130, stoppedBy: 'stations' }); // biome-ignore format: one line
  });

  it('[C1] with full seats: fuel in kilograms and litres, without baggage and with all of it', () => {
    const report = payloadReport(limitsOf(), EMPTY, { seatKg: 102 });
    expect(report.withFullSeats).toMatchObject({ seatsKg: 204, massKg: 72, stoppedBy: 'tanks', quantityL: 100 });
    expect(report.withFullSeatsAndBaggage.massKg).toBe(650 - 350 - 204 - 30);
    expect(report.withFullSeatsAndBaggage.quantityL).toBeCloseTo(66 / 0.72, 9);
    expect(report.withFullSeatsAndBaggage.stoppedBy).toBe('maximum weight');
  });

  it('[C1] with full seats: a person has what the seat may have, and too much is told below nothing', () => {
    expect(payloadReport(limitsOf(), EMPTY, { seatKg: 20 }).withFullSeats.seatsKg).toBe(110);
    const heavy = payloadReport(limitsOf({ maximumKg: 540 }), EMPTY).withFullSeats;
    expect(heavy).toMatchObject({ seatsKg: 220, massKg: -30, stoppedBy: 'maximum weight' });
    const dry = payloadReport(limitsOf({ zeroFuelMaximumKg: 560 }), EMPTY).withFullSeats;
    expect(dry).toMatchObject({ massKg: -10, stoppedBy: 'zero-fuel maximum' });
  });

  it('[C1] litres are not told where tanks hold fluids of different densities', () => {
    const stations = [...STATIONS, seatOf('Third', 3), tankOf('Oil', 1, { densityKgPerL: 0.9 })];
    expect(payloadReport(limitsOf({ stations }), EMPTY).withFullSeats.quantityL).toBeUndefined();
  });
});
