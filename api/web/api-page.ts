/** The list of doors and of problems for a person to read, made from the same definitions that are in force. */
import { html } from 'hono/html';
import { z } from 'zod';
import { type DoorApp, ROLE_FIELD } from '#api/door.ts';
import { HTTP_PROBLEMS } from '#api/problem/http-problems.ts';
import { PAGE_STYLE, page } from './page.ts';

type Row = { method: string; path: string; role: string; summary: string; request: string; reply: string };

const DOCUMENT = { openapi: '3.1.0', info: { title: 'Tarebook', version: '1' } };

export function apiPage(app: DoorApp): void {
  app.get('/api/page.css', (c) => c.body(PAGE_STYLE, 200, { 'Content-Type': 'text/css; charset=utf-8' }));
  app.get('/api', (c) =>
    c.html(
      page(
        'Doors of this server',
        html`<p>Masses are kilograms and stations metres from the datum; what is sent carries its units in words. The same list for programs:
<a href="/api/openapi.json">openapi.json</a>. A role may do what the ones before it may: viewer, crew, engineer, lead.</p>
<table><thead><tr><th>Door</th><th>Who</th><th>What</th><th>Sent</th><th>Answered</th></tr></thead><tbody>
${rowsOf(app).map(
  (row) => html`<tr><td><code>${row.method} ${row.path}</code></td><td>${row.role}</td><td>${row.summary}</td>
<td><code>${row.request}</code></td><td><code>${row.reply}</code></td></tr>
`,
)}</tbody></table>
<h2>When the server says no</h2>
<p>The answer is <code>application/problem+json</code> (RFC 9457). Where several things are wrong with what was sent, all of them stand in
<code>problems</code>, each with a JSON Pointer to its place.</p>
<table><thead><tr><th>Status</th><th>Code</th><th>What is wrong</th><th>What to do</th></tr></thead><tbody>
${Object.entries(HTTP_PROBLEMS).map(
  ([
    code,
    problem,
  ]) => html`<tr id="${code}"><td>${problem.status}</td><td><code>${code}</code></td><td>${problem.words}</td>
<td>${problem.remedy}</td></tr>
`,
)}</tbody></table>`,
      ),
    ),
  );
}

const Content = z.record(z.string(), z.object({ schema: z.unknown() }));
const Operation = z.object({
  [ROLE_FIELD]: z.string(),
  summary: z.string(),
  parameters: z.array(z.object({ name: z.string(), in: z.string() })).default([]),
  requestBody: z.object({ content: Content }).optional(),
  responses: z.record(z.string(), z.object({ content: Content.optional() })),
});

function rowsOf(app: DoorApp): readonly Row[] {
  const paths = app.getOpenAPI31Document(DOCUMENT).paths ?? {};
  return Object.entries(paths).flatMap(([path, operations]) =>
    Object.entries(operations).map(([method, given]) => {
      const operation = Operation.parse(given);
      const query = operation.parameters.filter((parameter) => parameter.in === 'query').map(({ name }) => name);
      const [, answered] = Object.entries(operation.responses).find(([status]) => status.startsWith('2')) ?? [];
      return {
        method: method.toUpperCase(),
        path: query.length === 0 ? path : `${path}?${query.join('&')}`,
        role: operation[ROLE_FIELD],
        summary: operation.summary,
        request: shapeOf(operation.requestBody?.content),
        reply: shapeOf(answered?.content),
      };
    }),
  );
}

const Shape = z.object({
  properties: z.record(z.string(), z.unknown()).optional(),
  required: z.array(z.string()).default([]),
  oneOf: z.array(z.unknown()).optional(),
  description: z.string().optional(),
});

/** The names of an object's fields; a question mark behind those that may be left out. */
function shapeOf(content: z.infer<typeof Content> | undefined): string {
  const [type, first] = Object.entries(content ?? {})[0] ?? [];
  if (first === undefined) return '';
  if (type !== 'application/json') return type ?? '';
  return fieldsOf(first.schema);
}

function fieldsOf(schema: unknown): string {
  const shape = Shape.safeParse(schema);
  if (!shape.success) return '';
  const { properties, required, oneOf, description } = shape.data;
  if (oneOf !== undefined) return oneOf.map(fieldsOf).join(' or ');
  if (properties === undefined) return description ?? '';
  return `{ ${Object.keys(properties)
    .map((name) => (required.includes(name) ? name : `${name}?`))
    .join(', ')} }`;
}
