/** `tarebook demo` as a person runs it (G1, C1). */
import { expect, it } from 'vitest';
import { describeInShops } from '#tests/api/command/shop.ts';

describeInShops('the command demo', (shop) => {
  it('[G1] creates the aircraft and shows where it stands, once', async () => {
    const said = await shop.run(['demo', '--by', 'ann']);
    expect(said.exit).toBe(0);
    expect(said.out).toContain('All of it is invented.');
    expect(said.out).toContain('Dabchick (invented demonstration), as of entry');
    expect(said.out).toContain('drifting light');
    expect(await shop.refusal(['demo'])).toEqual([':0:0 aircraft-name-taken']);
  });
});
