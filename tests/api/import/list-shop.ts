/** Bringing lists through the doors, in short. */
import { expect } from 'vitest';
import { ImportPreview, ImportProgress } from '#shared/contract/import.ts';
import type { Shop } from '#tests/api/door-shop.ts';

export type Sent = { readonly lists: Readonly<Record<string, unknown>>; readonly revise?: boolean };

export const list = (...lines: string[]) => ({ text: lines.join('\n') });

export function listsOf(shop: () => Shop, cookie: string, aircraftId: string) {
  const at = `/api/aircraft/${aircraftId}`;
  const look = async (sent: Sent, by = cookie): Promise<ImportPreview> => {
    const answer = await shop().call('POST', `${at}/import-preview`, { cookie: by, body: sent });
    const text = await answer.text();
    expect({ status: answer.status, text }).toMatchObject({ status: 200 });
    return ImportPreview.parse(JSON.parse(text));
  };
  const bring = (sent: Sent, digest: string, by = cookie) =>
    shop().call('POST', `${at}/import`, { cookie: by, body: { ...sent, digest } });
  return {
    look,
    bring,
    /** Looks, then records what was shown; answers the lines on the way. */
    async take(sent: Sent, by = cookie): Promise<readonly ImportProgress[]> {
      return linesOf(await bring(sent, (await look(sent, by)).digest, by));
    },
    async head(): Promise<number> {
      const answer = await shop().call('GET', `${at}/entries?limit=1`, { cookie });
      return ((await answer.json()) as { seq: number }).seq;
    },
  };
}

export async function linesOf(answer: Response): Promise<readonly ImportProgress[]> {
  const text = await answer.text();
  expect({ status: answer.status, text }).toMatchObject({ status: 200 });
  return text
    .trim()
    .split('\n')
    .map((line) => ImportProgress.parse(JSON.parse(line)));
}

/** Where and what: `list line:column code`. */
export function toldOf({ problems }: ImportPreview): readonly string[] {
  return problems.map(({ list, line, column, code }) => `${list} ${line}:${column} ${code}`);
}
