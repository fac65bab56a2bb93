/**
 * Finds a Chromium for the browser tests, or installs one: Playwright's own where its download can be reached, else Debian's as
 * root. It fails loudly; the browser tests are never skipped.
 */
import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { chromium } from 'playwright-core';

const USUAL_PLACES = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
];

/** The path of a Chromium. Throws with the remedy where there is none and none can be installed. */
export function findChromium(): string {
  const given = process.env['TAREBOOK_TEST_CHROMIUM'];
  if (given !== undefined && given !== '') return given;
  const there = lookAround();
  if (there !== undefined) return there;
  for (const install of [installFromPlaywright, installFromDebian]) {
    try {
      install();
    } catch {
      // The next way, or the message below.
    }
    const installed = lookAround();
    if (installed !== undefined) return installed;
  }
  throw new Error(
    'The browser tests need Chromium, and none could be found or installed. Install it (on Debian: apt-get install chromium), or name one in TAREBOOK_TEST_CHROMIUM.',
  );
}

function lookAround(): string | undefined {
  return [...USUAL_PLACES, chromium.executablePath()].find((path) => path !== '' && existsSync(path));
}

function installFromPlaywright(): void {
  execFileSync('npx', ['playwright-core', 'install', '--with-deps', 'chromium'], { stdio: 'ignore', timeout: 180_000 });
}

function installFromDebian(): void {
  if (process.getuid?.() !== 0) return;
  execFileSync('apt-get', ['update'], { stdio: 'ignore', timeout: 180_000 });
  execFileSync('apt-get', ['install', '-y', '--no-install-recommends', 'chromium'], {
    stdio: 'ignore',
    timeout: 420_000,
  });
}

/** How Chromium is started: as root it needs `--no-sandbox`; a machine without the wide network need not look for its makers. */
export const CHROMIUM_ARGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];
