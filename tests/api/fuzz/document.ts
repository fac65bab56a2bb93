/**
 * The OpenAPI document that the server gives, and replies held against it by a validator that knows nothing of the product's own
 * schemas. Closer than the document asks: a field of a reply that the document does not name is a fault as well.
 */
import { Ajv2020, type ValidateFunction } from 'ajv/dist/2020.js';
import { mayAs, type Role } from '#shared/contract/people.ts';

export type Schema = { readonly [keyword: string]: unknown };
type Content = Readonly<Record<string, { readonly schema: Schema }>>;

export type Place = {
  readonly name: string;
  readonly in: string;
  readonly required?: boolean;
  readonly schema: Schema;
};

export type Door = {
  /** `POST /api/people`. */
  readonly name: string;
  readonly method: string;
  readonly path: string;
  readonly role: Role | undefined;
  readonly places: readonly Place[];
  readonly sent: Schema | undefined;
  readonly sentAs: string | undefined;
  /** What is wrong with a reply, `text` being its body. */
  faultsOf(reply: Response, text: string): readonly string[];
};

type Operation = {
  readonly 'x-role': string;
  readonly parameters?: readonly Place[];
  readonly requestBody?: { readonly content: Content };
  readonly responses: Readonly<Record<string, { readonly content?: Content }>>;
};
type OpenApi = { readonly paths: Readonly<Record<string, Readonly<Record<string, Operation>>>> };

export function doorsOf(document: unknown): readonly Door[] {
  const validator = new Ajv2020({ strict: false, allErrors: false, validateFormats: true, formats: FORMATS });
  const compiled = new Map<string, ValidateFunction>();
  const validate = (schema: Schema, value: unknown): string | undefined => {
    const key = JSON.stringify(schema);
    const known = compiled.get(key) ?? validator.compile(closed(schema) as Schema);
    compiled.set(key, known);
    if (known(value)) return undefined;
    const [error] = known.errors ?? [];
    return `${error?.instancePath} ${error?.message} ${JSON.stringify(error?.params)}`;
  };
  return Object.entries((document as OpenApi).paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, operation]): Door => {
      const [sentAs, sent] = Object.entries(operation.requestBody?.content ?? {})[0] ?? [];
      return {
        ...{ name: `${method.toUpperCase()} ${path}`, method: method.toUpperCase(), path },
        role: operation['x-role'] === 'public' ? undefined : (operation['x-role'] as Role),
        ...{ places: operation.parameters ?? [], sent: sent?.schema, sentAs },
        faultsOf: (reply, text) => faultsOf(operation, reply, text, validate),
      };
    }),
  );
}

/** Whether the document lets this role in. */
export function letsIn(door: Door, role: Role | undefined): boolean {
  return door.role === undefined || (role !== undefined && mayAs(role, door.role));
}

function faultsOf(
  { responses }: Operation,
  reply: Response,
  text: string,
  validate: (schema: Schema, value: unknown) => string | undefined,
): readonly string[] {
  const { status } = reply;
  const told = responses[status] ?? (status >= 400 ? responses['default'] : undefined);
  if (told === undefined) return [`status ${status} is not in the document`];
  const type = reply.headers.get('content-type') ?? '';
  const [, content] =
    Object.entries(told.content ?? {}).find(([name]) => name.split(';')[0] === type.split(';')[0]) ?? [];
  if (content === undefined) return [`content type "${type}" of status ${status} is not in the document`];
  if (!/json$/.test(type.split(';')[0] ?? '') || type.includes('ndjson')) return [];
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return ['the body is no JSON'];
  }
  const wrong = validate(content.schema, value);
  const says = status < 400 || (value as { status?: unknown }).status === status;
  return [...(wrong === undefined ? [] : [wrong]), ...(says ? [] : ['the problem tells another status'])];
}

/** Objects take no field that they do not name. Of the pieces of an `allOf` each is open to the others. */
function closed(schema: unknown): unknown {
  if (Array.isArray(schema)) return schema.map(closed);
  if (typeof schema !== 'object' || schema === null) return schema;
  const isOpen = 'allOf' in schema || !('properties' in schema) || 'additionalProperties' in schema;
  const inner = Object.entries(schema).map(([key, value]) =>
    key === 'properties'
      ? [key, Object.fromEntries(Object.entries(value as object).map(([name, one]) => [name, closed(one)]))]
      : [key, key === 'allOf' || key === 'enum' || key === 'const' ? value : closed(value)],
  );
  return { ...Object.fromEntries(inner), ...(isOpen ? {} : { additionalProperties: false }) };
}

const FORMATS = {
  uuid: /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/i,
  date: (text: string) => /^\d{4}-\d\d-\d\d$/.test(text) && new Date(text).toISOString().startsWith(text),
  'date-time': (text: string) => !Number.isNaN(Date.parse(text)),
  binary: true as const,
};
