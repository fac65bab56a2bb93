/**
 * The pages of a printed brief while they are written, from the top down: text, headings and pictures, each kept in one piece where a page has room for
 * it; and what every page carries: what it is, whether anybody answers for it, the cautions, and its number. All of it is tagged, so that it can
 * be read aloud. Lengths are points, 72 to the inch, y downwards.
 */

import { createRequire } from 'node:module';
import PDFDocument from 'pdfkit';
import { stampOf, standingWords, titleOf } from '#shared/brief/standing.ts';
import type { Brief } from '#shared/contract/brief.ts';
import { LOCALE, say } from '#shared/words/say.ts';
import type { Paper } from '../file-kinds.ts';
import { printable } from './print-words.ts';

/** ISO 216 and ANSI/ASME Y14.1. */
const SIZE_PT: Readonly<Record<Paper, [width: number, height: number]>> = {
  a4: [(210 / 25.4) * 72, (297 / 25.4) * 72],
  letter: [8.5 * 72, 11 * 72],
};

/** Printers leave up to a quarter of an inch of an edge white; binders want more. */
const MARGIN_PT = 40;
const HEAD_PT = 22;
const GAP_PT = 5;

/** Told apart on grey paper too: a colour never says something alone. */
export const INK = {
  text: '#1b1f24',
  soft: '#4d565f',
  line: '#b9c0c7',
  faint: '#f0f2f4',
  forecast: '#1d5a9e',
  target: '#7a3d00',
};

/** Open Sans by Steve Matteson, SIL Open Font License 1.1, which allows it to be embedded and passed on. */
const from = createRequire(import.meta.url);
const FONTS = {
  plain: from.resolve('@expo-google-fonts/open-sans/400Regular/OpenSans_400Regular.ttf'),
  bold: from.resolve('@expo-google-fonts/open-sans/700Bold/OpenSans_700Bold.ttf'),
};
type Weight = keyof typeof FONTS;

export type Box = { readonly x: number; readonly y: number; readonly width: number; readonly height: number };
export type TextStyle = {
  readonly size?: number;
  readonly weight?: Weight;
  readonly colour?: string;
  readonly align?: 'left' | 'right' | 'center';
};
export type Picture = { readonly alt: string; readonly draw: (box: Box) => void };
type Parent = ReturnType<PDFKit.PDFDocument['struct']>;

export class Sheet {
  readonly doc: PDFKit.PDFDocument;
  readonly left = MARGIN_PT;
  readonly width: number;
  y: number;
  readonly #brief: Brief;
  readonly #root: Parent;
  readonly #bottom: number;
  readonly #bytes: Promise<Uint8Array>;

  constructor(brief: Brief, paper: Paper) {
    this.#brief = brief;
    const [pageWidth, pageHeight] = SIZE_PT[paper];
    this.doc = new PDFDocument({
      ...{ size: [pageWidth, pageHeight], margin: 0, font: FONTS.plain, autoFirstPage: false, bufferPages: true },
      ...{ pdfVersion: '1.7', tagged: true, lang: LOCALE, displayTitle: true },
      info: {
        Title: printable(titleOf(brief)),
        Author: printable(brief.issued?.by ?? brief.content.made.by),
        Subject: printable(standingWords(brief)),
        Creator: 'Tarebook',
        Producer: 'Tarebook',
        // A clock would make another file of the same brief.
        CreationDate: new Date(brief.issued?.at ?? brief.madeAt),
      },
    });
    this.#bytes = gathered(this.doc);
    this.width = pageWidth - 2 * MARGIN_PT;
    this.#root = this.doc.struct('Document');
    this.doc.addStructure(this.#root);
    this.#bottom = pageHeight - MARGIN_PT - this.#footHeight();
    this.y = 0;
    this.newPage();
  }

  newPage(): void {
    this.doc.addPage();
    this.y = MARGIN_PT + HEAD_PT;
    const stamp = stampOf(this.#brief);
    if (stamp !== undefined) this.aside(() => this.#stampAcross(stamp));
  }

  /** Goes on to the next page where this one has no more room for so much. */
  room(heightPt: number): void {
    if (this.y + heightPt > this.#bottom) this.newPage();
  }

  add(tag: string, write: () => void, parent: Parent = this.#root): void {
    parent.add(this.doc.struct(tag, {}, () => write()));
  }

  group(tag: string, alt?: string, parent: Parent = this.#root): Parent {
    const group = this.doc.struct(tag, alt === undefined ? {} : { alt });
    parent.add(group);
    return group;
  }

  /** What is there for the eye alone. */
  aside(write: () => void): void {
    this.doc.markContent('Artifact', { type: 'Pagination' });
    write();
    this.doc.endMarkedContent();
  }

  heightOf(words: string, widthPt: number, style: TextStyle = {}): number {
    return this.#sized(style).heightOfString(printable(words), { width: widthPt });
  }

  widthOf(words: string, style: TextStyle = {}): number {
    return this.#sized(style).widthOfString(printable(words));
  }

  /** Words at a place, wrapped to a width; moves nothing on. */
  write(words: string, { x, y, width }: Omit<Box, 'height'>, style: TextStyle = {}): void {
    this.#styled(style).text(printable(words), x, y, { width, align: style.align ?? 'left' });
  }

  /** Words on one line at a place, without a width to be wrapped to: `x` is where they begin, end or have their middle. */
  label(words: string, x: number, y: number, style: TextStyle = {}): void {
    const widthPt = this.widthOf(words, style);
    const shift = style.align === 'right' ? widthPt : style.align === 'center' ? widthPt / 2 : 0;
    this.#styled(style).text(printable(words), x - shift, y, { lineBreak: false });
  }

  paragraph(tag: string, words: string, style: TextStyle = {}, indentPt = 0): void {
    const width = this.width - indentPt;
    const height = this.heightOf(words, width, style);
    this.room(height);
    this.add(tag, () => this.write(words, { x: this.left + indentPt, y: this.y, width }, style));
    this.y += height + GAP_PT;
  }

  /** With room for something below it, so that none stands alone at the end of a page. */
  heading(words: string, belowPt = 60): void {
    this.y += GAP_PT;
    const style = { size: 11, weight: 'bold' } as const;
    this.room(this.heightOf(words, this.width, style) + belowPt);
    this.paragraph('H2', words, style);
  }

  bullets(sentences: readonly string[]): void {
    if (sentences.length === 0) return;
    const list = this.group('L');
    for (const words of sentences) {
      const style = { size: 9 };
      const width = this.width - 10;
      const height = this.heightOf(words, width, style);
      this.room(height);
      this.add(
        'LI',
        () => {
          this.doc.circle(this.left + 3, this.y + 6.5, 1.5).fill(INK.text);
          this.write(words, { x: this.left + 10, y: this.y, width }, style);
        },
        list,
      );
      this.y += height + 2;
    }
    list.end();
    this.y += GAP_PT;
  }

  /** Pictures beside one another. */
  pictures(pictures: readonly Picture[], heightPt: number): void {
    this.room(heightPt);
    const air = 16;
    const width = (this.width - air * (pictures.length - 1)) / pictures.length;
    pictures.forEach(({ alt, draw }, at) => {
      const figure = this.group('Figure', printable(alt));
      figure.add(() => draw({ x: this.left + at * (width + air), y: this.y, width, height: heightPt }));
      figure.end();
    });
    this.y += heightPt + GAP_PT;
  }

  async finish(): Promise<Uint8Array> {
    const { start, count } = this.doc.bufferedPageRange();
    for (let page = 0; page < count; page += 1) {
      this.doc.switchToPage(start + page);
      this.aside(() => this.#head());
      // Read aloud once; on the other pages they are for the eye.
      if (page === 0) this.add('P', () => this.#cautions());
      else this.aside(() => this.#cautions());
      this.aside(() => this.#number(say`page ${page + 1} of ${count}`));
    }
    this.#root.end();
    this.doc.end();
    return await this.#bytes;
  }

  /** To measure: puts nothing on the page. */
  #sized({ size = 9, weight = 'plain' }: TextStyle): PDFKit.PDFDocument {
    // By its file and not by a registered name: the first font under two names would be read from disk again with every word.
    return this.doc.font(FONTS[weight]).fontSize(size);
  }

  #styled(style: TextStyle): PDFKit.PDFDocument {
    return this.#sized(style).fillColor(style.colour ?? INK.text);
  }

  #head(): void {
    const style = { size: 8, colour: INK.soft };
    const stamp = stampOf(this.#brief);
    const stampWidth = stamp === undefined ? 0 : this.widthOf(stamp, { size: 9, weight: 'bold' }) + 12;
    const { isInvented } = this.#brief.content.aircraft;
    const words = `${titleOf(this.#brief)}${isInvented ? say` · invented for demonstration, no real aircraft` : ''}`;
    const y = MARGIN_PT - 8;
    this.label(this.#cut(words, this.width - stampWidth - 8, style), this.left, y, style);
    if (stamp === undefined) return;
    const x = this.left + this.width - stampWidth;
    this.doc
      .rect(x, y - 3, stampWidth, 17)
      .lineWidth(1)
      .stroke(INK.text);
    this.label(stamp, x + 6, y - 1, { size: 9, weight: 'bold' });
  }

  #stampAcross(stamp: string): void {
    const { width, height } = this.doc.page;
    this.doc.save().rotate(-40, { origin: [width / 2, height / 2] });
    this.label(stamp, width / 2, height / 2 - 70, { size: 100, weight: 'bold', colour: INK.faint, align: 'center' });
    this.doc.restore();
  }

  #cautions(): void {
    const y = this.#bottom + 8;
    this.doc
      .moveTo(this.left, y - 3)
      .lineTo(this.left + this.width, y - 3)
      .lineWidth(0.5)
      .stroke(INK.line);
    this.write(this.#brief.content.cautions.join(' '), { x: this.left, y, width: this.width }, CAUTIONS);
  }

  #number(words: string): void {
    const y = this.doc.page.height - MARGIN_PT + 2;
    const style = { size: 7, colour: INK.soft };
    const widthPt = this.width - this.widthOf(words, style) - 12;
    this.label(this.#cut(standingWords(this.#brief), widthPt, style), this.left, y, style);
    this.label(words, this.left + this.width, y, { ...style, align: 'right' });
  }

  #footHeight(): number {
    return this.heightOf(this.#brief.content.cautions.join(' '), this.width, CAUTIONS) + 8;
  }

  /** To one line; what is cut here stands whole in the text of the brief. */
  #cut(words: string, widthPt: number, style: TextStyle): string {
    if (this.widthOf(words, style) <= widthPt) return words;
    let cut = printable(words);
    while (cut.length > 1 && this.widthOf(`${cut}…`, style) > widthPt) cut = cut.slice(0, -1);
    return `${cut.trimEnd()}…`;
  }
}

const CAUTIONS: TextStyle = { size: 6.5, colour: INK.soft };

async function gathered(doc: PDFKit.PDFDocument): Promise<Uint8Array> {
  const chunks: Uint8Array[] = [];
  for await (const chunk of doc) chunks.push(chunk as Uint8Array);
  return Buffer.concat(chunks);
}
