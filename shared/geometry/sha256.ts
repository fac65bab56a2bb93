/**
 * SHA-256 (FIPS 180-4) of bytes, in steps. A browser that is served over plain http in the workshop has no digest of its own, and one that has
 * cannot be interrupted; so the fingerprint of a file is worked out here. For evidence only: nothing secret goes through it.
 */
import type { Stepwise } from './mesh.ts';

const BLOCK = 64;
const BLOCKS_PER_STEP = 1 << 14;

/** The first 32 bits of the fractional parts of the cube roots (constants) and square roots (first state) of the first primes. */
const PRIMES = firstPrimes(64);
const CONSTANTS = Int32Array.from(PRIMES, (prime) => fractionBits(Math.cbrt(prime)));
const FIRST_STATE = PRIMES.slice(0, 8).map((prime) => fractionBits(Math.sqrt(prime)));

/** In lower-case hexadecimal. */
export function* sha256Of(bytes: Uint8Array): Stepwise<string> {
  const state = Int32Array.from(FIRST_STATE);
  const schedule = new Int32Array(64);
  const whole = Math.floor(bytes.length / BLOCK);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  for (let block = 0; block < whole; block += 1) {
    mix(state, schedule, view, block * BLOCK);
    if (block % BLOCKS_PER_STEP === 0) yield block / whole;
  }
  const rest = bytes.subarray(whole * BLOCK);
  const last = new Uint8Array(rest.length + 9 > BLOCK ? 2 * BLOCK : BLOCK);
  last.set(rest);
  last[rest.length] = 0x80;
  const lastView = new DataView(last.buffer);
  lastView.setBigUint64(last.length - 8, 8n * BigInt(bytes.length));
  for (let at = 0; at < last.length; at += BLOCK) mix(state, schedule, lastView, at);
  return [...state].map((word) => (word >>> 0).toString(16).padStart(8, '0')).join('');
}

function mix(state: Int32Array, w: Int32Array, view: DataView, from: number): void {
  for (let t = 0; t < 16; t += 1) w[t] = view.getInt32(from + 4 * t);
  for (let t = 16; t < 64; t += 1) {
    const near = w[t - 2] as number;
    const far = w[t - 15] as number;
    const s1 = turned(near, 17) ^ turned(near, 19) ^ (near >>> 10);
    const s0 = turned(far, 7) ^ turned(far, 18) ^ (far >>> 3);
    w[t] = (s1 + (w[t - 7] as number) + s0 + (w[t - 16] as number)) | 0;
  }
  let a = state[0] as number;
  let b = state[1] as number;
  let c = state[2] as number;
  let d = state[3] as number;
  let e = state[4] as number;
  let f = state[5] as number;
  let g = state[6] as number;
  let h = state[7] as number;
  for (let t = 0; t < 64; t += 1) {
    const s1 = turned(e, 6) ^ turned(e, 11) ^ turned(e, 25);
    const t1 = (h + s1 + ((e & f) ^ (~e & g)) + (CONSTANTS[t] as number) + (w[t] as number)) | 0;
    const s0 = turned(a, 2) ^ turned(a, 13) ^ turned(a, 22);
    const t2 = (s0 + ((a & b) ^ (a & c) ^ (b & c))) | 0;
    h = g;
    g = f;
    f = e;
    e = (d + t1) | 0;
    d = c;
    c = b;
    b = a;
    a = (t1 + t2) | 0;
  }
  state[0] = (state[0] as number) + a;
  state[1] = (state[1] as number) + b;
  state[2] = (state[2] as number) + c;
  state[3] = (state[3] as number) + d;
  state[4] = (state[4] as number) + e;
  state[5] = (state[5] as number) + f;
  state[6] = (state[6] as number) + g;
  state[7] = (state[7] as number) + h;
}

function turned(word: number, by: number): number {
  return (word >>> by) | (word << (32 - by));
}

function fractionBits(root: number): number {
  return Math.floor((root - Math.floor(root)) * 2 ** 32) | 0;
}

function firstPrimes(count: number): number[] {
  const primes: number[] = [];
  for (let number = 2; primes.length < count; number += 1)
    if (primes.every((prime) => number % prime !== 0)) primes.push(number);
  return primes;
}
