/** What is written about the look is held against it: every token, the contrast of its colours, and every shared component. */
import { readdir, readFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';

const tokens = await readFile('client/look/tokens.css', 'utf8');
const look = await readFile('client/look/README.md', 'utf8');
const pieces = await readFile('client/pieces/README.md', 'utf8');

const LIGHT = blockOf(':root {');
const DARK = { ...LIGHT, ...blockOf(':root[data-theme="dark"] {') };
/** Least contrast of words (WCAG 2.2, 1.4.3) and of what shows where a control or a mark is (1.4.11). */
const LEAST = { words: 4.5, marks: 3 } as const;

describe('client/look/README.md', () => {
  it('[V1] it names every token there is, and no other', () => {
    const named = [...look.matchAll(/^\| `(--[a-z-]+)` \|/gm)].map(([, name]) => name);
    expect(named.sort()).toEqual(Object.keys(LIGHT).sort());
  });

  it('[V1] each colour has the contrast that it says, in both themes, and enough of it', () => {
    const rows = [...look.matchAll(/^\| `(--[a-z-]+)` \| (words|marks) on `(--[a-z-]+)` \| ([\d.]+) \| ([\d.]+) \|/gm)];
    expect(rows.length).toBeGreaterThan(15);
    for (const [, name = '', what, ground = '', light, dark] of rows) {
      const is = [LIGHT, DARK].map((theme) => contrast(theme[name] ?? '', theme[ground] ?? ''));
      expect({ name, is: is.map((one) => one.toFixed(1)) }).toEqual({ name, is: [light, dark] });
      for (const one of is)
        expect({ name, isEnough: one >= LEAST[what as keyof typeof LEAST] }).toEqual({ name, isEnough: true });
    }
  });
});

describe('client/pieces/README.md', () => {
  it('[V1] it says of every shared component what it is for', async () => {
    const files = (await readdir('client/pieces')).filter((file) => file.endsWith('.tsx'));
    const texts = await Promise.all(files.map((file) => readFile(`client/pieces/${file}`, 'utf8')));
    const components = texts.flatMap((text) =>
      [...text.matchAll(/^export function ([A-Z]\w*)/gm)].map(([, name]) => name),
    );
    const named = [...pieces.matchAll(/^\| `(\w+)` \|/gm)].map(([, name]) => name);
    expect(named.sort()).toEqual(components.sort());
  });
});

function blockOf(opening: string): Record<string, string> {
  const block = tokens.slice(tokens.indexOf(opening)).split('\n}')[0] ?? '';
  return Object.fromEntries(
    [...block.matchAll(/^ {2}(--[a-z-]+): (.+);$/gm)].map(([, name = '', value = '']) => [name, value]),
  );
}

/** WCAG 2.2: the ratio of the relative luminances of two colours. */
function contrast(a: string, b: string): number {
  const [dark = 0, light = 0] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (light + 0.05) / (dark + 0.05);
}

function luminance(hex: string): number {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((at) => {
    const share = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
