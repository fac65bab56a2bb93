/** Words about lay-up schedules and what weighings say of laminates (rules E3, E6). */
import { say } from '#shared/words/say.ts';

/** Before a mass is recorded over one that follows from a schedule (rule V2). */
export const LEAVES_LAY_UP = say`The mass of this estimate follows from its lay-up schedule. Recorded like this it is an estimate without the schedule; the entry before keeps it.`;

/** A source of uncertainty as the rules name it, `area of Skin (1)`, in words: numbers tell regions of one name apart and say nothing to people. */
export function sourceWords(source: string): string {
  const name = source.replace(/ \(\d+\)$/, '');
  const [, material] = /^material (.*)$/.exec(name) ?? [];
  if (material !== undefined) return material;
  const [, region] = /^area of (.*)$/.exec(name) ?? [];
  if (region !== undefined) return say`area of ${region}`;
  const [, core] = /^resin taken up by (.*)$/.exec(name) ?? [];
  if (core !== undefined) return say`resin taken up by ${core}`;
  return name === 'fibre fraction' ? say`fibre fraction` : name;
}
