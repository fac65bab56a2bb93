/** A large aircraft in one import: 8,000 parts and 4,000 weighings, some 20,000 entries, its totals summed here beside the product. */
import { expect, it } from 'vitest';
import { Verified } from './report-shape.ts';
import { jsonOf } from './run.ts';
import { describeInShop, given, lines } from './shop.ts';

const PARTS = 8_000;
const WEIGHED = 4_000;

/** Masses in whole grams and stations in whole millimetres, so that the sums here are exact. */
const part = (at: number) => ({
  number: `P-${String(at).padStart(4, '0')}`,
  estimateG: 50 + ((at * 7919) % 4001),
  stationMm: ((at * 104_729) % 9001) - 1000,
  netG: 40 + ((at * 6101) % 4801),
});

describeInShop('a large aircraft', 'folder', (shop) => {
  it('[S5] 20,001 entries go in at once, with progress on the error stream and totals that agree with a plain sum', {
    timeout: 240_000,
  }, async () => {
    const all = Array.from({ length: PARTS }, (_, at) => part(at));
    const weighed = all.slice(0, WEIGHED);
    const parts = all.map(
      (one, at) => `${one.number},${at % 2 === 0 ? 'wing' : 'body'},${one.estimateG},${one.stationMm},10`,
    );
    const weighings = weighed.map((one) => `${one.number},2026-06-01,${one.netG + 500},500,finished`);
    const words = [
      'import',
      '--aircraft',
      'Large',
      '--parts',
      await shop.file('parts.csv', lines('number,group,estimate [g],x [mm],allowance [%]', ...parts)),
      '--weighings',
      await shop.file('weighings.csv', lines('part,date,gross [g],tare [g],condition', ...weighings)),
      '--show',
      'headline,groups',
    ];
    // The clock of the test goes on by 400 ms with every look at it, so that there is something to tell.
    const said = await shop.run([...words, '--json'], { tickMs: 400 });
    expect(said.exit).toBe(0);
    const told = said.err.split('\n').flatMap((line) => /^([\d,]+) of 20,001 entries recorded$/.exec(line)?.[1] ?? []);
    const counts = told.map((text) => Number(text.replaceAll(',', '')));
    expect(counts.length).toBeGreaterThan(10);
    expect(counts).toEqual([...counts].sort((a, b) => a - b));
    expect(counts.at(-1)).toBe(20_001);

    const basicG = all.reduce((sum, one, at) => sum + (at < WEIGHED ? one.netG : one.estimateG), 0);
    const allowanceG = all.slice(WEIGHED).reduce((sum, one) => sum + one.estimateG, 0) * 0.1;
    const momentGMm = all.reduce(
      (sum, one, at) => sum + (at < WEIGHED ? one.netG : one.estimateG * 1.1) * one.stationMm,
      0,
    );
    const { imported, headline, groups } = await shop.report(['show', 'headline', 'groups']);
    expect(imported).toBeUndefined();
    expect(headline).toMatchObject({ seq: 20_001, partCount: PARTS });
    const { basicKg, allowanceKg, predictedKg, cg } = given(headline);
    expect(basicKg).toBeCloseTo(basicG / 1000, 9);
    expect(allowanceKg).toBeCloseTo(allowanceG / 1000, 9);
    expect(predictedKg).toBeCloseTo((basicG + allowanceG) / 1000, 9);
    expect(given(cg.xM)).toBeCloseTo(momentGMm / (basicG + allowanceG) / 1000, 9);
    expect(given(groups).reduce((sumKg, row) => sumKg + row.basicKg, 0)).toBeCloseTo(basicG / 1000, 6);
    expect(jsonOf(await shop.run(['verify', '--json']), Verified)).toMatchObject({ ok: true, entryCount: 20_001 });
    const again = await shop.report(words);
    expect(again.imported).toMatchObject({
      recorded: 0,
      files: { parts: { knownRows: PARTS }, weighings: { knownRows: WEIGHED } },
    });
  });

  it('[S5] a short import shows no progress', async () => {
    const words = [
      'import',
      '--aircraft',
      'Small',
      '--parts',
      await shop.file('p.csv', lines('number,group', 'A,wing')),
    ];
    expect(await shop.run(words)).toMatchObject({ exit: 0, err: '' });
  });
});
