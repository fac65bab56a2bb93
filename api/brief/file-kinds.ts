/** The kinds of file that a brief is written into (rule B4), apart from what writes them, which takes a while to load. */

export const BRIEF_FILES = ['pdf', 'xlsx', 'csv', 'json'] as const;
export type BriefFileKind = (typeof BRIEF_FILES)[number];

export const MEDIA_TYPES: Readonly<Record<BriefFileKind, string>> = {
  pdf: 'application/pdf',
  xlsx: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
  csv: 'text/csv; charset=utf-8',
  json: 'application/json',
};

/** What a PDF is laid out for. */
export const PAPERS = ['a4', 'letter'] as const;
export type Paper = (typeof PAPERS)[number];
