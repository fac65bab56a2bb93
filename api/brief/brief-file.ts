/** A brief as a file of one kind (rule B4), for the door and the command alike. */
import { briefCsv } from '#shared/brief/csv.ts';
import { fileNameOf } from '#shared/brief/standing.ts';
import type { Brief } from '#shared/contract/brief.ts';
import type { BriefFileKind, Paper } from './file-kinds.ts';
import { briefPdf } from './pdf/pdf.ts';
import { briefXlsx } from './xlsx.ts';

export type BriefFile = { readonly name: string; readonly bytes: Uint8Array };

/** `paper` is what a PDF is laid out for. */
export async function briefFile(brief: Brief, kind: BriefFileKind, paper: Paper): Promise<BriefFile> {
  return { name: fileNameOf(brief, kind, kind === 'pdf' ? paper : ''), bytes: await bytesOf(brief, kind, paper) };
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
