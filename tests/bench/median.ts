/** The median of a few timed runs, in milliseconds. */
export async function medianMs(runs: number, work: () => unknown): Promise<number> {
  const times: number[] = [];
  for (let run = 0; run < runs; run += 1) {
    const start = performance.now();
    await work();
    times.push(performance.now() - start);
  }
  times.sort((a, b) => a - b);
  return times[Math.floor(times.length / 2)] ?? 0;
}

export function line(name: string, ms: number, against: { readonly name: string; readonly ms: number }): string {
  return `${name.padEnd(58)} ${ms.toFixed(1).padStart(9)} ms   ${(ms / against.ms).toFixed(2).padStart(7)} x ${against.name} (${against.ms.toFixed(1)} ms)\n`;
}
