/** What nobody means to send: odd texts, numbers and values, bodies changed in one place or another, and JSON that is none. */
import type { Draw } from './draw.ts';

const TEXTS: readonly string[] = [
  '',
  ' ',
  '\0',
  'a\0b',
  '\ud800',
  'a\udfffb',
  '\u202e4 kg\u202c',
  '\u200b',
  '\ufeff4 kg',
  'e\u0301',
  '4 kg',
  '4 kg\n5 kg',
  '=1+1',
  '=cmd|"/c"!A1',
  '@SUM(A1)',
  '+4 kg',
  '-0 kg',
  '1e308 kg',
  '1e-320 kg',
  '0x10 kg',
  '４ kg',
  '١٢ kg',
  '1,5 kg',
  '1.234,5 kg',
  'NaN',
  'Infinity kg',
  "'; drop table entry; --",
  '<script>alert(1)</script>',
  '../../etc/passwd',
  '__proto__',
  'constructor',
  'toString',
  '%00',
  '{{7*7}}',
  'null',
  'true',
  '[]',
  '😀'.repeat(40),
  'x'.repeat(61),
  'x'.repeat(5_000),
  '9'.repeat(400),
  `${'('.repeat(300)}`,
  'lb'.repeat(1_500),
  '4 kg / '.repeat(500),
  '2026-02-30',
  '9999-12-31',
  '0000-00-00',
];

const NUMBERS: readonly number[] = [
  ...[0, -0, -1, 1, 0.1, 1.5, 2 ** 31 - 1, 2 ** 31, 2 ** 32, 2 ** 53, -(2 ** 53), 1e15, 1e21, 1e308, -1e308, 5e-324],
];

export function oddText(draw: Draw): string {
  const text = draw.of(TEXTS);
  return draw.in100(15) ? `${text}${draw.of(TEXTS)}` : text;
}

export function oddValue(draw: Draw): unknown {
  return draw.of<() => unknown>([
    () => oddText(draw),
    () => oddText(draw),
    () => draw.of(NUMBERS),
    () => draw.of(NUMBERS),
    () => null,
    () => true,
    () => [],
    () => ({}),
    () => ['4 kg'],
    () => ({ kg: 4 }),
    () => nested(draw.int(2, 60)),
    () => Array.from({ length: 300 }, () => 0),
    () => JSON.parse('{"__proto__":{"role":"lead"}}'),
  ])();
}

/** A copy that is changed in one to three places. */
export function oddly(value: unknown, draw: Draw): unknown {
  let changed = structuredClone(value);
  for (let times = draw.int(1, 3); times > 0; times -= 1) changed = changedOnce(changed, draw);
  return changed;
}

function changedOnce(value: unknown, draw: Draw): unknown {
  const isInner = typeof value === 'object' && value !== null && Object.keys(value).length > 0;
  if (!isInner || draw.in100(4)) return oddValue(draw);
  const key = draw.of(Object.keys(value));
  const inner = (value as Record<string, unknown>)[key];
  const others = Object.fromEntries(Object.entries(value).filter(([name]) => name !== key));
  const within = (put: unknown) =>
    Array.isArray(value) ? value.with(Number(key), put) : { ...(value as object), [key]: put };
  if (typeof inner === 'object' && inner !== null && draw.in100(60)) return within(changedOnce(inner, draw));
  return draw.of<() => unknown>([
    () => within(oddValue(draw)),
    () => within(oddValue(draw)),
    () => within(oddText(draw)),
    () => within(typeof inner === 'string' ? `${inner}${oddText(draw)}` : [inner]),
    () => (Array.isArray(value) ? value.toSpliced(Number(key), 1) : others),
    () => (Array.isArray(value) ? [...value, inner] : { ...others, [oddText(draw)]: inner }),
    () => (Array.isArray(value) ? value.toReversed() : { ...(value as object), [draw.word()]: oddValue(draw) }),
  ])();
}

/** The text of a body, not as JSON is written, or with every name in it twice. */
export function brokenJson(value: unknown, draw: Draw): string | Uint8Array {
  const text = JSON.stringify(value) ?? 'null';
  const at = draw.int(0, text.length);
  return draw.of<() => string | Uint8Array>([
    () => text.slice(0, at),
    () => `${text.slice(0, at)}${draw.of([...'{}[]",:\\x0'])}${text.slice(at)}`,
    () => text.replace('{', `${text.slice(0, -1)},`),
    () => text.replace('{', `{"id":7,"kind":[],"name":"x","__proto__":null,`),
    () => `\ufeff${text}`,
    () => `${text}${text}`,
    () => '',
    () => `${'['.repeat(20_000)}${']'.repeat(20_000)}`,
    () => `{"a":${'{"a":'.repeat(5_000)}1${'}'.repeat(5_001)}`,
    () => text.replaceAll(/-?\d+(\.\d+)?/g, '1e999'),
    () =>
      Buffer.concat([
        Buffer.from(text.slice(0, at)),
        Buffer.from([0xed, 0xa0, 0x80, 0xff]),
        Buffer.from(text.slice(at)),
      ]),
  ])();
}

function nested(depth: number): unknown {
  return depth === 0 ? 'deep' : depth % 2 === 0 ? [nested(depth - 1)] : { replacement: nested(depth - 1) };
}
