/** Lines of a lay-up schedule in words (rules E3, E4), as short as the demonstration needs them, and what a schedule of it is. */
import type { Words } from './plan.ts';
import type { ShapeName } from './shapes.ts';

type Lines = readonly Words[];

export type LayUpRow = {
  readonly part: string;
  /** The week in which the lead gives the schedule to the shop, before the first piece is moulded. */
  readonly week: number;
  readonly remark: string;
  readonly schedule: Words;
  /** The part was measured in the drawing, and so it is known where it lies. */
  readonly shape?: ShapeName;
};

export function ply(material: string, layers: number, angle: string, more: Words = {}): Words {
  return { is: 'ply', material, layers: String(layers), angle, ...more };
}

export function core(material: string, more: Words): Words {
  return { is: 'core', material, faces: '2', ...more };
}

export function coat(material: string, more: Words = {}): Words {
  return { is: 'coat', material, on: 'later', ...more };
}

export function bondLine(material: string, length: string, section: string): Words {
  return { is: 'bond line', material, length, section };
}

export function fillet(material: string, length: string, section: string): Words {
  return { is: 'fillet', material, length, section };
}

export function inserts(material: string, count: number): Words {
  return { is: 'insert', material, count: String(count) };
}

/** `perimeter` goes around all of the region. */
export function region(name: string, area: string, lines: Lines, more: Words = {}): Words {
  return { name, area, 'area uncertainty': '1 %', ...more, lines };
}

export function laminate(resin: string, fibreByMass: string, regions: Lines): Words {
  return { resin, 'fibre by mass': fibreByMass, regions };
}
