/**
 * A pen for a canvas that writes SVG: what is drawn with it, by chart.js or by a picture's own marks, becomes lines, areas and words that
 * stay sharp at any size and can be edited. It knows what our pictures draw, and no more: no images, no gradients, no shadows.
 */
import { say } from '#shared/words/say.ts';

type Matrix = readonly [a: number, b: number, c: number, d: number, e: number, f: number];
const UNMOVED: Matrix = [1, 0, 0, 1, 0, 0];

type State = {
  matrix: Matrix;
  clip: string | undefined;
  fillStyle: string;
  strokeStyle: string;
  lineWidth: number;
  lineCap: string;
  lineJoin: string;
  lineDashOffset: number;
  dash: readonly number[];
  font: string;
  textAlign: string;
  textBaseline: string;
  globalAlpha: number;
};

/** What a pen is set to before anything is said. */
const FIRST: State = {
  matrix: UNMOVED,
  clip: undefined,
  fillStyle: '#000',
  strokeStyle: '#000',
  lineWidth: 1,
  lineCap: 'butt',
  lineJoin: 'miter',
  lineDashOffset: 0,
  dash: [],
  font: '10px sans-serif',
  textAlign: 'start',
  textBaseline: 'alphabetic',
  globalAlpha: 1,
};

/** How far below its line, in parts of the letters' size, a text is set for each way of naming its height. */
const DOWN: Readonly<Record<string, number>> = { top: 0.8, hanging: 0.8, middle: 0.34, bottom: -0.22 };
const ANCHOR: Readonly<Record<string, string>> = { center: 'middle', right: 'end', end: 'end' };

export class SvgPen {
  readonly canvas: HTMLCanvasElement;
  readonly #measure: CanvasRenderingContext2D;
  readonly #body: string[] = [];
  readonly #clips: string[] = [];
  readonly #kept: State[] = [];
  #now: State = { ...FIRST };
  #path = '';

  /** `measure` is the pen of a real canvas: it knows how wide words are. */
  constructor(canvas: HTMLCanvasElement, measure: CanvasRenderingContext2D) {
    this.canvas = canvas;
    this.#measure = measure;
  }

  /** Everything drawn so far. */
  get drawn(): string {
    const clips = this.#clips.length === 0 ? '' : `<defs>${this.#clips.join('')}</defs>`;
    return `${clips}${this.#body.join('\n')}`;
  }

  save(): void {
    this.#kept.push({ ...this.#now });
  }
  restore(): void {
    this.#now = this.#kept.pop() ?? this.#now;
  }

  translate(x: number, y: number): void {
    this.transform(1, 0, 0, 1, x, y);
  }
  rotate(angle: number): void {
    this.transform(Math.cos(angle), Math.sin(angle), -Math.sin(angle), Math.cos(angle), 0, 0);
  }
  scale(x: number, y: number): void {
    this.transform(x, 0, 0, y, 0, 0);
  }
  transform(...by: Matrix): void {
    const [a, b, c, d, e, f] = this.#now.matrix;
    const [g, h, i, j, k, l] = by;
    this.#now.matrix = [
      a * g + c * h,
      b * g + d * h,
      a * i + c * j,
      b * i + d * j,
      a * k + c * l + e,
      b * k + d * l + f,
    ];
  }
  setTransform(...to: Matrix): void {
    this.#now.matrix = to;
  }
  resetTransform(): void {
    this.#now.matrix = UNMOVED;
  }

  beginPath(): void {
    this.#path = '';
  }
  closePath(): void {
    this.#path += 'Z';
  }
  moveTo(x: number, y: number): void {
    this.#path += `M${this.#at(x, y)}`;
  }
  lineTo(x: number, y: number): void {
    this.#path += `${this.#path === '' ? 'M' : 'L'}${this.#at(x, y)}`;
  }
  bezierCurveTo(x1: number, y1: number, x2: number, y2: number, x: number, y: number): void {
    this.#path += `C${this.#at(x1, y1)} ${this.#at(x2, y2)} ${this.#at(x, y)}`;
  }
  quadraticCurveTo(x1: number, y1: number, x: number, y: number): void {
    this.#path += `Q${this.#at(x1, y1)} ${this.#at(x, y)}`;
  }
  rect(x: number, y: number, width: number, height: number): void {
    this.#path += `M${this.#at(x, y)}L${this.#at(x + width, y)}L${this.#at(x + width, y + height)}L${this.#at(x, y + height)}Z`;
  }
  arc(x: number, y: number, radius: number, from: number, to: number, isBack = false): void {
    this.ellipse(x, y, radius, radius, 0, from, to, isBack);
  }
  /** As a chain of straight lines, short enough for the eye: points and round corners are small. */
  ellipse(...[x, y, wide, high, turned, from, to, isBack = false]: Parameters<CanvasPath['ellipse']>): void {
    const whole = 2 * Math.PI;
    const way = isBack ? from - to : to - from;
    const swept = (isBack ? -1 : 1) * (way >= whole ? whole : ((way % whole) + whole) % whole);
    const steps = Math.max(2, Math.ceil((Math.abs(swept) / whole) * 32));
    for (let step = 0; step <= steps; step += 1) {
      const angle = from + (swept * step) / steps;
      const [along, across] = [wide * Math.cos(angle), high * Math.sin(angle)];
      this.lineTo(
        x + along * Math.cos(turned) - across * Math.sin(turned),
        y + along * Math.sin(turned) + across * Math.cos(turned),
      );
    }
  }

  clip(): void {
    const id = `clip${this.#clips.length + 1}`;
    this.#clips.push(say`<clipPath id="${id}"${this.#clipped()}><path d="${this.#path}"/></clipPath>`);
    this.#now.clip = id;
  }
  stroke(): void {
    const { strokeStyle, lineWidth, lineCap, lineJoin, dash, lineDashOffset } = this.#now;
    const dashed =
      dash.length === 0
        ? ''
        : say` stroke-dasharray="${dash.join(' ')}" stroke-dashoffset="${rounded(lineDashOffset)}"`;
    this.#put(
      say`<path d="${this.#path}" fill="none" stroke="${quoted(strokeStyle)}" stroke-width="${rounded(lineWidth)}" stroke-linecap="${lineCap}" stroke-linejoin="${lineJoin}"${dashed}`,
    );
  }
  fill(): void {
    this.#put(say`<path d="${this.#path}" fill="${quoted(this.#now.fillStyle)}"`);
  }
  fillRect(x: number, y: number, width: number, height: number): void {
    const before = this.#path;
    this.#path = '';
    this.rect(x, y, width, height);
    this.fill();
    this.#path = before;
  }
  strokeRect(x: number, y: number, width: number, height: number): void {
    const before = this.#path;
    this.#path = '';
    this.rect(x, y, width, height);
    this.stroke();
    this.#path = before;
  }
  /** The sheet is new: there is nothing to wipe off. */
  clearRect(): void {}

  fillText(words: string, x: number, y: number): void {
    const { font, textAlign, textBaseline, fillStyle, matrix } = this.#now;
    const { style, weight, size, family } = fontParts(font);
    const down = (DOWN[textBaseline] ?? 0) * size;
    const moved = matrix.map(rounded).join(' ');
    // A clip of the words themselves would move with them.
    const [opened, closed] = this.#now.clip === undefined ? ['', ''] : [`<g${this.#clipped()}>`, '</g>'];
    this.#body.push(
      say`${opened}<text transform="matrix(${moved})" x="${rounded(x)}" y="${rounded(y + down)}" font-family="${quoted(family)}" font-size="${size}" font-style="${style}" font-weight="${weight}" text-anchor="${ANCHOR[textAlign] ?? say`start`}" fill="${quoted(fillStyle)}">${quoted(words)}</text>${closed}`,
    );
  }
  /** An outline behind words, which none of our pictures has. */
  strokeText(): void {}
  measureText(words: string): TextMetrics {
    this.#measure.font = this.#now.font;
    return this.#measure.measureText(words);
  }

  setLineDash(dash: readonly number[]): void {
    this.#now.dash = [...dash];
  }
  getLineDash(): number[] {
    return [...this.#now.dash];
  }

  get fillStyle(): string {
    return this.#now.fillStyle;
  }
  set fillStyle(colour: string) {
    this.#now.fillStyle = colour;
  }
  get strokeStyle(): string {
    return this.#now.strokeStyle;
  }
  set strokeStyle(colour: string) {
    this.#now.strokeStyle = colour;
  }
  get lineWidth(): number {
    return this.#now.lineWidth;
  }
  set lineWidth(width: number) {
    this.#now.lineWidth = width;
  }
  set lineCap(cap: string) {
    this.#now.lineCap = cap;
  }
  set lineJoin(join: string) {
    this.#now.lineJoin = join;
  }
  set lineDashOffset(offset: number) {
    this.#now.lineDashOffset = offset;
  }
  get font(): string {
    return this.#now.font;
  }
  set font(font: string) {
    this.#now.font = font;
  }
  set textAlign(align: string) {
    this.#now.textAlign = align;
  }
  set textBaseline(baseline: string) {
    this.#now.textBaseline = baseline;
  }
  get globalAlpha(): number {
    return this.#now.globalAlpha;
  }
  set globalAlpha(alpha: number) {
    this.#now.globalAlpha = alpha;
  }

  #put(opened: string): void {
    if (this.#path === '') return;
    const { globalAlpha } = this.#now;
    this.#body.push(`${opened}${globalAlpha === 1 ? '' : say` opacity="${globalAlpha}"`}${this.#clipped()}/>`);
  }

  #clipped(): string {
    return this.#now.clip === undefined ? '' : say` clip-path="url(#${this.#now.clip})"`;
  }

  #at(x: number, y: number): string {
    const [a, b, c, d, e, f] = this.#now.matrix;
    return `${rounded(a * x + c * y + e)} ${rounded(b * x + d * y + f)}`;
  }
}

function rounded(value: number): number {
  return Number.isFinite(value) ? Math.round(value * 100) / 100 : 0;
}

/** `italic 600 13px Family, other` */
function fontParts(font: string) {
  const [, before = '', size = '10', family = 'sans-serif'] = /^(.*?)([\d.]+)px(?:\/\S+)?\s+(.*)$/.exec(font) ?? [];
  return {
    style: before.includes('italic') ? 'italic' : 'normal',
    weight: /\d{3}/.exec(before)?.[0] ?? (before.includes('bold') ? 'bold' : 'normal'),
    size: Number(size),
    family,
  };
}

/** In words and between quotation marks. */
export function quoted(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');
}
