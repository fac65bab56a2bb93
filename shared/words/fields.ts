/** The fields of each kind of entry as it is stated in words, beside `kind`, `id`, `happenedOn`, `by` and `remark`. */
import { AIRCRAFT_WEIGHING_FIELDS } from '#shared/aircraft-weighing/from-words.ts';
import { PROCESS_CAUSE_FIELDS } from '#shared/drift/process-cause-words.ts';
import { ALLOWANCE_FIELDS } from '#shared/estimate/allowance.ts';
import { ESTIMATE_FIELDS } from '#shared/estimate/from-words.ts';
import { MATERIAL_FIELDS } from '#shared/layup/material-words.ts';
import type { Statement } from '#shared/ledger/entry.ts';
import { PART_FIELDS } from '#shared/part/from-words.ts';
import { TARGET_FIELDS } from '#shared/target/from-words.ts';
import { ASSEMBLY_FIELDS } from '#shared/weighing/assembly-from-words.ts';
import { WEIGHING_FIELDS } from '#shared/weighing/from-words.ts';
import { CHECK_FIELDS, SCALE_FIELDS } from '#shared/weighing/scale-from-words.ts';
import { ARM_FIELDS } from './arm-from-words.ts';

export const FIELDS: Readonly<Record<Statement['kind'], readonly string[]>> = {
  aircraft: ['name', 'datum', 'levelling', 'mac', 'lemac', 'mass unit', 'length unit', 'oil in empty weight'],
  'part added': PART_FIELDS,
  'part removed': ['part', 'reason'],
  estimate: ['part', ...ESTIMATE_FIELDS, 'geometry', 'layUp'],
  weighing: ['part', ...WEIGHING_FIELDS],
  'assembly weighing': ['part', ...ASSEMBLY_FIELDS],
  'aircraft weighing': AIRCRAFT_WEIGHING_FIELDS,
  'arm measured': ['part', ...ARM_FIELDS],
  'piece withdrawn': ['part', 'piece', 'reason'],
  'piece installed': ['part', 'piece'],
  disposition: ['part', 'piece', 'decision', 'inspection'],
  'process cause': PROCESS_CAUSE_FIELDS,
  scale: SCALE_FIELDS,
  'check weight': CHECK_FIELDS,
  material: [...MATERIAL_FIELDS, 'withdrawn'],
  'datum moved': ['shift', 'datum', 'reason'],
  targets: [...TARGET_FIELDS, 'groups'],
  allowances: ALLOWANCE_FIELDS,
  loading: ['limits', 'reason'],
  note: ['part', 'text'],
};

export const KINDS = Object.keys(FIELDS) as readonly Statement['kind'][];
export const STAMP_FIELDS: readonly string[] = ['kind', 'id', 'happenedOn', 'by', 'remark'];
export const CORRECTION_FIELDS: readonly string[] = ['entry', 'reason', 'replacement'];
