/** Loading limits told from another datum (rule L8): exact, so that a move and its way back leave nothing behind. Per cent MAC stays: the chord moves. */
import type { LoadingLimits } from './limits.ts';

/** `told` answers a station from the datum that is wanted. */
export function limitsTold(limits: LoadingLimits, told: (stationM: number) => number): LoadingLimits {
  const { stations, envelope } = limits;
  return {
    ...limits,
    stations: stations.map((station) => {
      if (station.what !== 'tank') return { ...station, xM: told(station.xM) };
      const { arm } = station;
      return {
        ...station,
        arm: typeof arm === 'number' ? told(arm) : arm.map((row) => ({ ...row, xM: told(row.xM) })),
      };
    }),
    envelope:
      envelope.by === 'station'
        ? { ...envelope, points: envelope.points.map((point) => ({ ...point, at: told(point.at) })) }
        : envelope,
  };
}
