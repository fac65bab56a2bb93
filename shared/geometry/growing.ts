/** Whole numbers whose count is not known beforehand, in one typed array that grows by half. */

export class GrowingNumbers {
  count = 0;
  private numbers = new Int32Array(3 * 1024);

  push(number: number): void {
    if (this.count === this.numbers.length) {
      const wider = new Int32Array(this.count + (this.count >> 1));
      wider.set(this.numbers);
      this.numbers = wider;
    }
    this.numbers[this.count] = number;
    this.count += 1;
  }

  get(at: number): number {
    return this.numbers[at] as number;
  }

  all(): Int32Array {
    return this.numbers.subarray(0, this.count);
  }
}
