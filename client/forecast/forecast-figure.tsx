/** Where the aircraft will end (rules F1-F3): the forecast beside the predicted weight, its band, and the chances of the targets. */

import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { ChancesReport, ForecastReport } from '#shared/contract/forecast.ts';
import { chanceInWords } from '#shared/forecast/chance-words.ts';
import { scopeOf } from '#shared/forecast/scope.ts';
import { say } from '#shared/words/say.ts';
import { useForecast } from '../door/queries.ts';
import { Figure } from '../ledger/figure.tsx';
import { Failed } from '../pieces/states.tsx';
import { percent, plusMinus, type Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';

const NAME = say`Forecast empty weight`;

export function ForecastFigure(props: {
  readonly aircraft: AircraftReport;
  readonly asKnownAt: number | undefined;
  readonly shown: Shown;
}) {
  const { aircraft, asKnownAt, shown } = props;
  const forecast = useForecast(aircraft.id, asKnownAt);
  if (forecast.isLoadingError)
    return (
      <div className="card figure">
        <h2 className="figure-name">{NAME}</h2>
        <Failed error={forecast.error} again={() => void forecast.refetch()} />
      </div>
    );
  // The card keeps its place while its figures are on the way.
  if (forecast.data === undefined) return <Figure name={NAME} value="–" unit={shown.units.mass} isWide />;
  return <Known forecast={forecast.data} shown={shown} />;
}

function Known({ forecast, shown }: { readonly forecast: ForecastReport; readonly shown: Shown }) {
  const { massWithStd, massWithUnit, units } = shown;
  const { targets, assumed } = forecast;
  const cg = forecast.cg.x;
  const scope =
    targets === undefined
      ? undefined
      : scopeOf({ predictedKg: forecast.predictedKg, emptyMassKg: targets.emptyMassKg });
  const isIncomplete = scope?.isIncomplete === true;
  const mark = targets === undefined ? undefined : isIncomplete ? 'warn' : markOf(targets);
  const inBand = (massKg: number) => massWithStd(massKg, forecast.forecastStdKg).value;
  return (
    <Figure
      name={NAME}
      {...massWithStd(forecast.forecastKg, forecast.forecastStdKg)}
      unit={units.mass}
      isWide
      mark={mark}
      word={
        targets === undefined || mark === undefined
          ? undefined
          : isIncomplete
            ? say`${SHAPE.warn} not the whole aircraft yet: the listed parts make ${percent(scope?.share)} of the target`
            : say`${SHAPE[mark]} within the target: ${chanceInWords(targets.withinTarget).words}`
      }
      facts={[
        {
          name: say`nine times in ten`,
          value: say`${inBand(forecast.lowKg)} to ${inBand(forecast.highKg)}\u00a0${units.mass}`,
        },
        ...(targets === undefined
          ? []
          : [
              {
                name: isIncomplete ? say`the listed parts within the target` : say`within the target`,
                value: chanceInWords(targets.withinTarget).share,
              },
              ...(targets.reserveKg > 0
                ? [
                    {
                      name: say`and ${massWithUnit(targets.reserveKg)} of reserve left`,
                      value: chanceInWords(targets.withinTargetLessReserve).share,
                    },
                  ]
                : []),
              ...(targets.cgInRange === undefined
                ? []
                : [{ name: say`CG within its range`, value: chanceInWords(targets.cgInRange).share }]),
            ]),
        ...(cg === undefined
          ? []
          : [{ name: say`CG, forecast`, value: plusMinus(shown.lengthWithStd(cg.atM, cg.stdM), units.length) }]),
      ]}
    >{rich`It covers the parts that are listed, and no others. What weighed parts have shown of their processes is carried over to the rest; beforehand a process is taken to miss by ${percent(assumed.processShiftStd)} (${assumed.isOwnShift ? say`your shop’s` : say`common practice`}), one piece to differ from the next by ${percent(assumed.pieceToPieceStd)} (${assumed.isOwnPiece ? say`your shop’s` : say`common practice`}).`}</Figure>
  );
}

function markOf({ withinTarget }: ChancesReport): keyof typeof SHAPE {
  if (withinTarget >= 0.9) return 'good';
  return withinTarget >= 0.5 ? 'warn' : 'bad';
}

const SHAPE = { good: '●', warn: '△', bad: '▲' } as const;
