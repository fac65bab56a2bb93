/** A brief as a file of one kind (rule B4), for the door and the command alike. */
import { briefCsv } from '#shared/brief/csv.ts';
import { fileNameOf } from '#shared/brief/standing.ts';
import type { Brief } from '#shared/contract/brief.ts';
import { briefPdf } from './pdf/pdf.ts';
import type { Paper } from './pdf/sheet.ts';
import { briefXlsx } from './xlsx.ts';

export const BRIEF_FILES = ['pdf', 'xlsx', 'csv', 'json'] as const;
export type BriefFileKind = (typeof BRIEF_FILES)[number];

export const MEDIA_TYPES: Readonly<Record<BriefFileKind, string>> = {
  pdf: 'application/pdf',
  xlsx: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
  csv: 'text/csv; charset=utf-8',
  json: 'application/json',
};

export type BriefFile = { readonly name: string; readonly bytes: Uint8Array };

/** `paper` is what a PDF is laid out for. */
export async function briefFile(brief: Brief, kind: BriefFileKind, paper: Paper): Promise<BriefFile> {
  return { name: fileNameOf(brief, kind), bytes: await bytesOf(brief, kind, paper) };
}

async function bytesOf(brief: Brief, kind: BriefFileKind, paper: Paper): Promise<Uint8Array> {
  switch (kind) {
    case 'pdf':
      return await briefPdf(brief, paper);
    case 'xlsx':
      return await briefXlsx(brief);
    case 'csv':
      return Buffer.from(briefCsv(brief));
    default:
      return Buffer.from(`${JSON.stringify(brief, null, 2)}\n`);
  }
}
