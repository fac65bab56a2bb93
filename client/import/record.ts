/** Records what was shown and hears on the way how far it is. Letting go before the end takes everything back. */
import { ProblemReport } from '#shared/contract/aircraft.ts';
import { ImportProgress, type ListPreview } from '#shared/contract/import.ts';
import { ProblemError, unreachable } from '../door/ask.ts';
import { bodyOf, type Sent } from './use-look.ts';

export type Done = { readonly recorded: number; readonly knownRows: number };
/** With what was shown of it, and recorded as it was shown. */
export type Told = Done & Pick<ListPreview, 'allowances' | 'drifts' | 'driftCount'>;

export async function record(
  aircraftId: string,
  sent: Sent & { readonly digest: string },
  onProgress: (recorded: number, total: number) => void,
  signal: AbortSignal,
): Promise<Done> {
  const response = await send(aircraftId, sent, signal);
  if (!response.ok || response.body === null) {
    const problem = ProblemReport.safeParse(await response.json().catch(() => undefined));
    throw new ProblemError(problem.success ? problem.data : unreachable(`The server answered ${response.status}.`));
  }
  const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
  let text = '';
  for (;;) {
    const { value, done } = await reader.read().catch((error: unknown) => {
      if (signal.aborted) throw error;
      throw new ProblemError(unreachable('The connection broke while it was recorded.'));
    });
    text += value ?? '';
    const lines = text.split('\n');
    text = lines.pop() ?? '';
    for (const line of lines) {
      const told = ImportProgress.parse(JSON.parse(line));
      if ('failed' in told) throw new ProblemError(told.failed);
      if ('done' in told) return told.done;
      onProgress(told.recorded, told.total);
    }
    if (done) throw new ProblemError(unreachable('The connection broke while it was recorded.'));
  }
}

async function send(aircraftId: string, sent: Sent & { readonly digest: string }, signal: AbortSignal) {
  try {
    return await fetch(`/api/aircraft/${aircraftId}/import`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ ...bodyOf(sent), digest: sent.digest }),
      signal,
      credentials: 'same-origin',
    });
  } catch (error) {
    if (signal.aborted) throw error;
    throw new ProblemError(unreachable('The server cannot be reached.'));
  }
}
