/**
 * Takes pictures: a server of its own, the real browser, the screens as a lead sees them. `npm run pictures` takes the README's anew from the
 * demonstration; `npm run pictures -- all` takes every screen, of four aircraft, in both themes and three widths, into `screens/`. Look at them.
 */
import { parseArgs } from 'node:util';
import { chromium } from 'playwright-core';
import { CHROMIUM_ARGS, findChromium } from '#tests/support/chromium.ts';
import { NotKnown, takeAll } from './all.ts';
import { takeReadme } from './readme.ts';

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    screen: { type: 'string', multiple: true },
    aircraft: { type: 'string', multiple: true },
    width: { type: 'string', multiple: true },
    theme: { type: 'string', multiple: true },
    pages: { type: 'string' },
  },
});

const browser = await chromium.launch({ executablePath: findChromium(), args: CHROMIUM_ARGS });
try {
  if (positionals[0] === 'all') await takeAll(browser, values);
  else if (positionals.length === 0) await takeReadme(browser);
  else
    throw new NotKnown(`"${positionals[0]}" is not known: take "all" of them, or say nothing for those of the README.`);
} catch (error) {
  if (!(error instanceof NotKnown)) throw error;
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 2;
} finally {
  await browser.close();
}
