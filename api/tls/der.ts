/** The few shapes of DER (X.690) of which a certificate is made. */

export function tagged(tag: number, ...contents: readonly Buffer[]): Buffer {
  const content = Buffer.concat(contents);
  const { length } = content;
  const head = length < 128 ? [length] : length < 256 ? [0x81, length] : [0x82, length >> 8, length & 0xff];
  if (length > 0xffff) throw new Error('more than a certificate holds');
  return Buffer.concat([Buffer.from([tag, ...head]), content]);
}

export const sequence = (...contents: readonly Buffer[]) => tagged(0x30, ...contents);
export const set = (...contents: readonly Buffer[]) => tagged(0x31, ...contents);
export const octets = (content: Buffer) => tagged(0x04, content);
export const truth = () => Buffer.from([0x01, 0x01, 0xff]);
export const utf8 = (text: string) => tagged(0x0c, Buffer.from(text, 'utf8'));

/** Whole and positive: a leading bit that would make it negative gets a zero byte before it. */
export function integer(bytes: Buffer): Buffer {
  const first = bytes[0] ?? 0;
  return tagged(0x02, first >= 0x80 ? Buffer.concat([Buffer.from([0]), bytes]) : bytes);
}

/** `unused`: how many of the last bits say nothing. */
export function bits(bytes: Buffer, unused = 0): Buffer {
  return tagged(0x03, Buffer.from([unused]), bytes);
}

export function oid(dotted: string): Buffer {
  const [first = 0, second = 0, ...rest] = dotted.split('.').map(Number);
  return tagged(0x06, Buffer.from([first * 40 + second, ...rest.flatMap(base128)]));
}

/** RFC 5280, 4.1.2.5: two digits of the year until 2049, four from then on. */
export function time(when: Date): Buffer {
  const text = `${when.toISOString().slice(0, 19).replace(/[-:T]/g, '')}Z`;
  return when.getUTCFullYear() < 2050
    ? tagged(0x17, Buffer.from(text.slice(2), 'ascii'))
    : tagged(0x18, Buffer.from(text, 'ascii'));
}

function base128(value: number): number[] {
  const digits = [value & 0x7f];
  for (let rest = value >>> 7; rest > 0; rest >>>= 7) digits.unshift((rest & 0x7f) | 0x80);
  return digits;
}
