/** An XLSX workbook for tests, as small as one can be: cells in rows, with what spreadsheets put into them. */
import { strToU8, zipSync } from 'fflate';

/** Text, a number, a day (as a date), `{ share }` shown in per cent, `{ xml }` for a cell written out, or nothing. */
export type MadeCell = string | number | Date | { readonly share: number } | { readonly xml: string } | undefined;
export type MadeSheet = {
  readonly name: string;
  readonly rows: readonly (readonly MadeCell[])[];
  readonly merged?: readonly string[];
};

const HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>';
const MAIN = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
const RELATIONS = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
const PACKAGE = 'http://schemas.openxmlformats.org/package/2006';

export function makeWorkbook(...sheets: readonly MadeSheet[]): Uint8Array<ArrayBuffer> {
  const files: Record<string, string> = {
    '[Content_Types].xml': `${HEAD}<Types xmlns="${PACKAGE}/content-types"><Default Extension="xml" ContentType="application/xml"/><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/></Types>`,
    '_rels/.rels': `${HEAD}<Relationships xmlns="${PACKAGE}/relationships"><Relationship Id="rId1" Type="${RELATIONS}/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
    'xl/workbook.xml': `${HEAD}<workbook xmlns="${MAIN}" xmlns:r="${RELATIONS}"><sheets>${sheets
      .map(({ name }, at) => `<sheet name="${name}" sheetId="${at + 1}" r:id="rId${at + 1}"/>`)
      .join('')}</sheets></workbook>`,
    'xl/_rels/workbook.xml.rels': `${HEAD}<Relationships xmlns="${PACKAGE}/relationships">${sheets
      .map(
        (_, at) =>
          `<Relationship Id="rId${at + 1}" Type="${RELATIONS}/worksheet" Target="worksheets/sheet${at + 1}.xml"/>`,
      )
      .join('')}<Relationship Id="rIdS" Type="${RELATIONS}/styles" Target="styles.xml"/></Relationships>`,
    // 0: as it is; 1: a day; 2: per cent, built in; 3: per cent with a place.
    'xl/styles.xml': `${HEAD}<styleSheet xmlns="${MAIN}"><numFmts count="1"><numFmt numFmtId="164" formatCode="0.0%"/></numFmts><cellXfs count="4"><xf numFmtId="0"/><xf numFmtId="14"/><xf numFmtId="9"/><xf numFmtId="164"/></cellXfs></styleSheet>`,
  };
  for (const [at, sheet] of sheets.entries()) files[`xl/worksheets/sheet${at + 1}.xml`] = sheetXml(sheet);
  const zipped = zipSync(Object.fromEntries(Object.entries(files).map(([name, text]) => [name, strToU8(text)])));
  return new Uint8Array(zipped);
}

function sheetXml({ rows, merged = [] }: MadeSheet): string {
  const body = rows.map((cells, at) => {
    const inner = cells.map((cell, column) => cellXml(cell, `${String.fromCharCode(65 + column)}${at + 1}`)).join('');
    return inner === '' ? '' : `<row r="${at + 1}">${inner}</row>`;
  });
  const merges = merged.map((ref) => `<mergeCell ref="${ref}"/>`).join('');
  return `${HEAD}<worksheet xmlns="${MAIN}"><sheetData>${body.join('')}</sheetData>${
    merges === '' ? '' : `<mergeCells count="${merged.length}">${merges}</mergeCells>`
  }</worksheet>`;
}

function cellXml(cell: MadeCell, r: string): string {
  if (cell === undefined) return '';
  if (typeof cell === 'number') return `<c r="${r}"><v>${cell}</v></c>`;
  if (cell instanceof Date) return `<c r="${r}" s="1"><v>${cell.getTime() / 86_400_000 + 25_569}</v></c>`;
  if (typeof cell === 'string')
    return `<c r="${r}" t="inlineStr"><is><t>${cell.replace(/&/g, '&amp;').replace(/</g, '&lt;')}</t></is></c>`;
  if ('share' in cell) return `<c r="${r}" s="3"><v>${cell.share}</v></c>`;
  return cell.xml.replace('<c', `<c r="${r}"`);
}
