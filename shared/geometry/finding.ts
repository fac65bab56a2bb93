/** What is odd about a mesh and yet does not keep it from being measured (rule E5), as it is kept, and in words. */

import { z } from 'zod';
import { type DisplayUnits, showFixed, showLength } from '#shared/quantity/show.ts';
import { counted, say } from '#shared/words/say.ts';

const count = z.int().min(1);

export const Finding = z.discriminatedUnion('code', [
  /** Triangles without an area. `first` counts from 1 in the order of the file. */
  z.strictObject({ code: z.literal('flat-triangles'), count, first: count }),
  z.strictObject({ code: z.literal('open-edges'), count, borders: count }),
  z.strictObject({ code: z.literal('crowded-edges'), count }),
  z.strictObject({ code: z.literal('turned-over'), count }),
  /** A closed sheet that is measured as a shell: both of its faces are in the area. */
  z.strictObject({ code: z.literal('both-faces'), thicknessM: z.number().min(0) }),
  z.strictObject({ code: z.literal('closed-shell') }),
  z.strictObject({ code: z.literal('inside-out') }),
]);
export type Finding = z.infer<typeof Finding>;

/** Whether the figures are likely wrong for what they are meant for, and not only worth a look. */
export function isWarning({ code }: Finding): boolean {
  return code === 'both-faces' || code === 'crowded-edges';
}

export function findingInWords(finding: Finding, units: Pick<DisplayUnits, 'length'>): string {
  const words = inWords(finding, units);
  return words.charAt(0).toUpperCase() + words.slice(1);
}

function inWords(finding: Finding, units: Pick<DisplayUnits, 'length'>): string {
  switch (finding.code) {
    case 'flat-triangles':
      return say`${counted(finding.count, 'triangle has', 'triangles have')} no area, the first of them number ${showFixed(finding.first, 0)}. They add nothing.`;
    case 'open-edges':
      return say`The surface is open along ${counted(finding.count, 'edge', 'edges')}, in ${counted(finding.borders, 'border', 'borders')}. That is right for a single skin; a gap in the drawing would show here too.`;
    case 'crowded-edges':
      return say`${counted(finding.count, 'edge belongs', 'edges belong')} to more than two triangles: surfaces meet or lie on each other there. What lies twice counts twice.`;
    case 'turned-over':
      return say`${counted(finding.count, 'edge lies', 'edges lie')} between neighbours of which one faces the other way. Area and centroid of a shell do not mind.`;
    case 'both-faces':
      return say`The surface is closed and thin, some ${showLength(finding.thicknessM, units.length)} ${units.length} on average: it looks like a solid sheet, and both of its faces count. For the area of the skin take one face only, or half.`;
    case 'closed-shell':
      return say`The surface is closed: all of it counts as skin, the ends and the inside as well if they are drawn.`;
    case 'inside-out':
      return say`All triangles face inwards. The volume is taken as it is, without its sign.`;
  }
}
