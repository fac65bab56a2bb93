/** Values that a schema of the document takes, drawn. */
import type { Schema } from './document.ts';
import type { Draw } from './draw.ts';

export function drawnFor(schema: Schema, draw: Draw): unknown {
  if ('const' in schema) return schema['const'];
  if (Array.isArray(schema['enum'])) return draw.of(schema['enum']);
  const either = schema['anyOf'] ?? schema['oneOf'];
  if (Array.isArray(either)) return drawnFor(draw.of(either as Schema[]), draw);
  const { type } = schema;
  switch (Array.isArray(type) ? draw.of(type as string[]) : type) {
    case 'object':
      return objectOf(schema, draw);
    case 'array':
      return arrayOf(schema, draw);
    case 'string':
      return textOf(schema, draw);
    case 'integer':
      return draw.int(leastOf(schema), mostOf(schema));
    case 'number':
      return Number(draw.decimal(leastOf(schema), mostOf(schema), 3));
    case 'boolean':
      return draw.in100(50);
    default:
      return null;
  }
}

function objectOf(schema: Schema, draw: Draw): Record<string, unknown> {
  const required = (schema['required'] ?? []) as readonly string[];
  const properties = Object.entries((schema['properties'] ?? {}) as Record<string, Schema>);
  return Object.fromEntries(
    properties
      .filter(([name]) => required.includes(name) || draw.in100(40))
      .map(([name, property]) => [name, drawnFor(property, draw)]),
  );
}

function arrayOf(schema: Schema, draw: Draw): unknown[] {
  const fixed = (schema['prefixItems'] ?? []) as readonly Schema[];
  if (fixed.length > 0) return fixed.map((item) => drawnFor(item, draw));
  const least = Number(schema['minItems'] ?? 0);
  const most = Math.min(Number(schema['maxItems'] ?? 3), least + 3);
  return Array.from({ length: draw.int(least, most) }, () => drawnFor((schema['items'] ?? {}) as Schema, draw));
}

function textOf(schema: Schema, draw: Draw): string {
  if (schema['format'] === 'uuid') return draw.uuid();
  if (schema['format'] === 'date') return draw.day();
  const least = Number(schema['minLength'] ?? 1);
  const most = Math.min(Number(schema['maxLength'] ?? 12), least + 8);
  return draw.word(draw.int(least, most));
}

const leastOf = (schema: Schema) => Math.max(Number(schema['minimum'] ?? schema['exclusiveMinimum'] ?? 1), -1000);
const mostOf = (schema: Schema) => Math.min(Number(schema['maximum'] ?? schema['exclusiveMaximum'] ?? 40), 1000);
