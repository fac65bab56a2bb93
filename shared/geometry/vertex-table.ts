/**
 * The vertices of a mesh, each place once (rule E5): two vertices are one where their coordinates are exactly the same. Held in
 * typed arrays, with open addressing, so that a million triangles take neither an object each nor much more room than their file.
 */

export type Coordinates = Float32Array | Float64Array;

const FIRST_ROOM = 1024;

export class VertexTable {
  count = 0;
  private coordinates: Coordinates;
  /** The number of a vertex plus one; 0 where nothing is. */
  private slots = new Int32Array(4 * FIRST_ROOM);
  private readonly most: number;
  private readonly double = new Float64Array(3);
  private readonly words = new Uint32Array(this.double.buffer);

  /** `single` where the file holds no more than single precision; `most` vertices at the most can come. */
  constructor(options: { readonly precision: 'single' | 'double'; readonly most: number }) {
    this.most = Math.max(1, options.most);
    const room = 3 * Math.min(FIRST_ROOM, this.most);
    this.coordinates = options.precision === 'single' ? new Float32Array(room) : new Float64Array(room);
  }

  /** The number of the vertex at this place, which is new where none was there. The coordinates are finite. */
  numberOf(x: number, y: number, z: number): number {
    const mask = this.slots.length - 1;
    const { coordinates } = this;
    let slot = this.hash(x, y, z) & mask;
    for (;;) {
      const there = this.slots[slot] as number;
      if (there === 0) break;
      const at = 3 * (there - 1);
      if (coordinates[at] === x && coordinates[at + 1] === y && coordinates[at + 2] === z) return there - 1;
      slot = (slot + 1) & mask;
    }
    return this.add(slot, x, y, z);
  }

  /** The coordinates, three to a vertex. The table is empty afterwards, so that its room is free. */
  take(): Coordinates {
    const taken = this.coordinates.subarray(0, 3 * this.count);
    this.slots = new Int32Array(0);
    this.coordinates = new Float64Array(0);
    return taken;
  }

  private add(slot: number, x: number, y: number, z: number): number {
    const number = this.count;
    const at = 3 * number;
    if (at === this.coordinates.length) this.coordinates = grown(this.coordinates, 3 * this.most);
    const { coordinates } = this;
    coordinates[at] = x;
    coordinates[at + 1] = y;
    coordinates[at + 2] = z;
    this.slots[slot] = number + 1;
    this.count += 1;
    if (2 * this.count > this.slots.length) this.spread();
    return number;
  }

  /** Twice the slots, everything in them anew. */
  private spread(): void {
    const { coordinates, count } = this;
    const mask = 2 * this.slots.length - 1;
    this.slots = new Int32Array(0);
    const slots = new Int32Array(mask + 1);
    for (let number = 0; number < count; number += 1) {
      const at = 3 * number;
      let slot =
        this.hash(coordinates[at] as number, coordinates[at + 1] as number, coordinates[at + 2] as number) & mask;
      while (slots[slot] !== 0) slot = (slot + 1) & mask;
      slots[slot] = number + 1;
    }
    this.slots = slots;
  }

  private hash(x: number, y: number, z: number): number {
    // Adding 0 makes -0 the 0 that it equals.
    this.double[0] = x + 0;
    this.double[1] = y + 0;
    this.double[2] = z + 0;
    const { words } = this;
    let mixed = 0;
    for (let word = 0; word < 6; word += 1) {
      mixed = Math.imul(mixed ^ (words[word] as number), 0x9e3779b1);
      mixed ^= mixed >>> 15;
    }
    mixed = Math.imul(mixed, 0x85ebca6b);
    return mixed ^ (mixed >>> 13);
  }
}

function grown(coordinates: Coordinates, most: number): Coordinates {
  const room = Math.min(most, 3 * Math.ceil(coordinates.length / 2));
  const wider = coordinates instanceof Float32Array ? new Float32Array(room) : new Float64Array(room);
  wider.set(coordinates);
  return wider;
}
