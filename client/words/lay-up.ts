/** Words about lay-up schedules and what weighings say of laminates (rules E3, E6). */
import { say } from '#shared/words/say.ts';

/** Before a mass is recorded over one that follows from a schedule (rule V2). */
export const LEAVES_LAY_UP = say`The mass of this estimate follows from its lay-up schedule. Recorded like this it is an estimate without the schedule; the entry before keeps it.`;
