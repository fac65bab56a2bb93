/** Every part of the invented demonstration aircraft, in nine groups, an assembly before what belongs to it. */
import type { GroupOfParts } from './part-row.ts';
import { GEAR } from './parts-gear.ts';
import { HULL } from './parts-hull.ts';
import { FINISH, FURNISHING } from './parts-inside.ts';
import { PROPULSION } from './parts-propulsion.ts';
import { CONTROLS, INSTRUMENTS } from './parts-systems.ts';
import { TAIL } from './parts-tail.ts';
import { WING } from './parts-wing.ts';

const LISTED: readonly GroupOfParts[] = [WING, TAIL, HULL, GEAR, PROPULSION, CONTROLS, INSTRUMENTS, FURNISHING, FINISH];

/** In the order of their numbers, as a shop lists them. */
export const GROUPS: readonly GroupOfParts[] = LISTED.map(({ group, parts }) => ({
  group,
  parts: parts.toSorted((a, b) => (a.number < b.number ? -1 : 1)),
}));
