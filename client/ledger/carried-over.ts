/** What a corrected weighing keeps of the old one: everything that the dialog does not ask for. */
import type { StatementOf } from '#shared/ledger/entry.ts';

export function carriedOver(weighing: StatementOf<'weighing'>): Readonly<Record<string, string>> {
  const { scale, fixture, lot, batch, operator, cause, temperatureC, humidityFraction, typed } = weighing;
  const fields = {
    scale,
    fixture,
    lot,
    batch,
    operator,
    cause,
    temperature: temperatureC === undefined ? undefined : asTyped(typed?.['temperature'], `${temperatureC} °C`),
    humidity: humidityFraction === undefined ? undefined : asTyped(typed?.['humidity'], `${humidityFraction * 100} %`),
    resolution: weighing.resolutionFrom === 'stated' ? `${weighing.grossResolutionKg} kg` : undefined,
  };
  return Object.fromEntries(
    Object.entries(fields).flatMap(([field, text]) => (text === undefined ? [] : [[field, text]])),
  );
}

/** A figure whose unit stood in the heading of a list says nothing by itself. */
function asTyped(text: string | undefined, withUnit: string): string {
  return text !== undefined && /[%CF]\s*$/i.test(text) ? text : withUnit;
}
