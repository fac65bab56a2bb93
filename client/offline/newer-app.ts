/**
 * The app on this device: handed to the service worker, and held against the server's. A page that stays open for days is an older app than the
 * server's one day; it says so, and the person takes the new one when it suits. Nothing is loaded anew behind somebody's back.
 */
import { useEffect, useState } from 'react';
import { z } from 'zod';
import type { LineState } from '../door/live.ts';

/** Only a page over TLS, or of this very machine, may have one. */
export function keepApp(): void {
  if (!('serviceWorker' in navigator) || import.meta.env.DEV) return;
  // Without it the app needs the server to open, as before: no reason to trouble anybody.
  const register = () =>
    navigator.serviceWorker.register('/service-worker.js', { updateViaCache: 'none' }).catch(() => undefined);
  setTimeout(register, FIRST_LOAD_MS);
}

/** It fetches every file of the app: whoever waits for the first screen does not wait for that. */
const FIRST_LOAD_MS = 3000;

const Build = z.object({ build: z.string() });
const ASK_EVERY_MS = 3_600_000;

/** True where the server has another app than this page. Asked when the line to the server is there (again): it may have been started anew. */
export function useNewerApp(line: LineState): boolean {
  const [isNewer, setNewer] = useState(false);
  const isOpen = line === 'open';
  useEffect(() => {
    if (!isOpen || import.meta.env.DEV) return;
    const look = async () => {
      const build = await buildOfServer();
      if (build === undefined || build === ownBuild()) return;
      setNewer(true);
      await (await navigator.serviceWorker?.getRegistration())?.update();
    };
    const lookQuietly = () => void look().catch(() => undefined);
    lookQuietly();
    const timer = setInterval(lookQuietly, ASK_EVERY_MS);
    return () => clearInterval(timer);
  }, [isOpen]);
  return isNewer;
}

async function buildOfServer(): Promise<string | undefined> {
  const answer = await fetch('/build.json', { cache: 'no-store' });
  if (!answer.ok) return undefined;
  const read = Build.safeParse(await answer.json());
  return read.success ? read.data.build : undefined;
}

function ownBuild(): string | undefined {
  return document.querySelector<HTMLMetaElement>('meta[name="tarebook-build"]')?.content;
}
