/** From what was typed into a form to the words that are sent: bare numbers get the unit that stands in their field. */
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { GROUP_PREFIX } from '#shared/words/statement-in-words.ts';
import { typedWith } from '../pieces/typed-units.ts';
import type { FieldKind, FieldSpec, Form } from './field-spec.ts';

type Units = Pick<AircraftReport, 'massUnit' | 'lengthUnit'>;

export function unitOf(kind: FieldKind, { massUnit, lengthUnit }: Units): string | undefined {
  switch (kind) {
    case 'mass':
    case 'mass or share':
      return massUnit;
    case 'length':
    case 'station or share':
      return lengthUnit;
    case 'share':
      return '%';
    case 'temperature':
      return '°C';
    default:
      return undefined;
  }
}

/** The words of the fields that are asked for; empty ones are left out. */
export function wordsOfForm(form: Form, fields: readonly FieldSpec[], units: Units): Record<string, unknown> {
  const words: Record<string, unknown> = {};
  for (const { name, is } of fields) {
    if (is === 'groups') {
      const groups = groupWords(form, units.massUnit);
      if (Object.keys(groups).length > 0) words['groups'] = groups;
      continue;
    }
    const text = (form[name] ?? '').trim();
    const unit = unitOf(is, units);
    if (text !== '') words[name] = unit === undefined ? text : typedWith(text, unit);
  }
  return words;
}

function groupWords(form: Form, unit: string): Record<string, string> {
  return Object.fromEntries(
    Object.entries(form).flatMap(([name, text]) =>
      name.startsWith(GROUP_PREFIX) && text.trim() !== ''
        ? [[name.slice(GROUP_PREFIX.length), typedWith(text, unit)]]
        : [],
    ),
  );
}
