/** Estimates of the story by lay-up schedule (rule E3), and where the part was drawn, by its geometry as well (rule E5). */
import { type WorkingDay, workingDay } from './calendar.ts';
import type { LayUpRow } from './lay-up-words.ts';
import { layUpOf } from './lay-ups.ts';
import { BEFORE_NEW_ROLL } from './materials.ts';
import type { PartRow } from './part-row.ts';
import type { Planned, Words } from './plan.ts';
import { besideMassWords, restatedRemark } from './plan-parts.ts';
import { geometryOfShape } from './shapes.ts';
import { PEOPLE } from './story.ts';

export function planLayUp(row: PartRow): readonly Planned[] {
  const layUp = layUpOf(row.number);
  if (layUp === undefined) return [];
  const { week, remark, schedule } = layUp;
  const { restated } = row;
  return [
    { ...stamp(`laid up ${row.number}`, workingDay(week, 2)), remark, words: estimateWords(row, layUp, schedule) },
    ...(restated?.fractionStd === undefined
      ? []
      : [
          {
            ...stamp(`restated ${row.number}`, workingDay(restated.week, 1)),
            remark: restatedRemark(restated.std),
            words: estimateWords(row, layUp, {
              ...schedule,
              'fraction uncertainty': restated.fractionStd,
              materials: BEFORE_NEW_ROLL,
            }),
          },
        ]),
  ];
}

function stamp(name: string, day: WorkingDay) {
  return { name, happenedOn: day, recordedOn: day, by: PEOPLE.lead };
}

function estimateWords(row: PartRow, { shape }: LayUpRow, schedule: Words): Words {
  const { x, y, z, ...others } = besideMassWords(row);
  const stations = Object.fromEntries(Object.entries({ x, y, z }).filter(([, station]) => station !== undefined));
  return {
    kind: 'estimate',
    part: row.number,
    ...others,
    ...(shape === undefined ? stations : { geometry: geometryOfShape(shape) }),
    layUp: schedule,
  };
}
