/** A small aircraft of a test's own, made through the door: an assembly of a skin, two ribs and a tip, weighed and targeted. */
import type { Page } from 'playwright-core';
import { expect } from 'vitest';

export const PARTS = [
  { number: 'BOX', name: 'Tail box', group: 'tail' },
  { number: 'SKIN', name: 'Skin', group: 'tail', process: 'resin-infused', assembly: 'BOX' },
  { number: 'RIB', name: 'Rib', group: 'tail', process: 'wet lay-up', assembly: 'BOX', quantity: '2' },
  { number: 'TIP', name: 'Tip', group: 'tail', process: 'printed', assembly: 'BOX' },
] as const;

const ESTIMATES = [
  { part: 'SKIN', estimate: '4 kg', x: '3.0 m' },
  { part: 'RIB', estimate: '0.5 kg', x: '3.2 m' },
  { part: 'TIP', estimate: '0.3 kg', x: '3.4 m' },
] as const;

export type Shop = {
  readonly address: string;
  /** Sends an entry in words; answers its number. */
  readonly send: (words: object) => Promise<number>;
  readonly get: <Answer>(path: string) => Promise<Answer>;
};

/** Begins the aircraft with the account that is signed in on the page. */
export async function beginBox(page: Page, address: string, name = 'Shelduck'): Promise<Shop> {
  const post = async (path: string, data: object) => {
    const answer = await page.request.post(`${address}${path}`, { data });
    const told = (await answer.json()) as { id: string; entry: { seq: number } };
    expect(answer.status(), JSON.stringify(told)).toBe(201);
    return told;
  };
  const { id } = await post('/api/aircraft', { name, datum: 'the bow', massUnit: 'kg', lengthUnit: 'm' });
  const send = async (words: object) =>
    (await post(`/api/aircraft/${id}/entries`, { id: crypto.randomUUID(), ...words })).entry.seq;
  await send({ kind: 'targets', 'empty mass': '5.5 kg', 'cg forward': '2.5 m', 'cg aft': '3.5 m' });
  for (const part of PARTS) await send({ kind: 'part added', ...part });
  for (const estimate of ESTIMATES) await send({ kind: 'estimate', allowance: '10 %', ...estimate });
  return {
    address: `${address}/aircraft/${id}`,
    send,
    get: async (path) => (await page.request.get(`${address}/api/aircraft/${id}${path}`, { maxRetries: 2 })).json(),
  };
}

/** Opens a part from the finder on Weigh, by its number. */
export async function findPart(page: Page, number: string): Promise<void> {
  await page.getByLabel('Which part is on the scale?').fill(number);
  // What was found; what is offered next stands beside it.
  await page.locator('[aria-label="Find the part"] > .part-buttons button').first().click();
  await page.getByRole('heading', { name: new RegExp(`^${number}`) }).waitFor();
}
