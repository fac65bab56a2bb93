/** The lay-up of a part (rules E3, E4): a schedule typed line by line, its masses as it is typed, and its estimate. */

import { useQuery } from '@tanstack/react-query';
import { useMemo, useRef, useState } from 'react';
import { Link, useLocation, useSearch } from 'wouter';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import { ROLE_OF_KIND } from '#shared/contract/kind-roles.ts';
import type { PartPageReport } from '#shared/contract/part.ts';
import type { PartReport } from '#shared/contract/reports.ts';
import type { SetUpReport } from '#shared/contract/set-up.ts';
import { estimateInWords } from '#shared/estimate/in-words.ts';
import { draftOf, emptyDraft } from '#shared/layup/draft.ts';
import { type Material, materialKey } from '#shared/layup/material.ts';
import { type MaterialWords, materialFromWords } from '#shared/layup/material-words.ts';
import { otherSideInName } from '#shared/layup/mirror.ts';
import { STARTER_MATERIALS } from '#shared/layup/starter-materials.ts';
import { FieldReader } from '#shared/words/field-reader.ts';
import { say, term } from '#shared/words/say.ts';
import { newId } from '../door/ask.ts';
import { partQuestion, useParts } from '../door/queries.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { Failed, Waiting } from '../pieces/states.tsx';
import { shownIn } from '../pieces/units.ts';
import { RecordedNotice } from '../record/recorded-notice.tsx';
import { useSetUp } from '../setup/questions.ts';
import { StarterMaterials } from '../setup/starter-materials.tsx';
import { rich } from '../words/rich.ts';
import { Bar } from './bar.tsx';
import type { Kept } from './kept.ts';
import { LeaveDialog } from './leave-dialog.tsx';
import { MovedNotice } from './moved-notice.tsx';
import { ReadOnly } from './read-only.tsx';
import { RecordCard } from './record-card.tsx';
import { RegionCard } from './region-card.tsx';
import { Sums } from './sums.tsx';
import { TakeDialog } from './take-dialog.tsx';
import { useEstimate } from './use-estimate.ts';
import { useLineKeys } from './use-line-keys.ts';
import { type Schedule, useSchedule } from './use-schedule.ts';
import { WettingCard } from './wetting-card.tsx';
import '../ledger/ledger.css';
import '../part/part.css';
import '../record/record.css';
import './layup.css';

// biome-ignore lint/style/noDefaultExport: React's lazy loads a screen by its default export.
export default function LayUpScreen({
  aircraft,
  partId,
}: {
  readonly aircraft: AircraftReport;
  readonly partId: string;
}) {
  const part = useQuery(partQuestion(aircraft.id, partId));
  const setUp = useSetUp(aircraft.id);
  const parts = useParts(aircraft.id);
  const may = useMay(ROLE_OF_KIND.estimate);
  const [recorded, setRecorded] = useState<RecordedReport>();
  const failed = [part, setUp, parts].find(({ isLoadingError }) => isLoadingError);
  if (failed !== undefined)
    return (
      <div className="page stack">
        <h1>{say`This lay-up cannot be shown`}</h1>
        <Failed error={failed.error} again={() => void failed.refetch()} />
      </div>
    );
  if (part.data === undefined || setUp.data === undefined || parts.data === undefined)
    return (
      <div className="page">
        <h1 className="hidden-words">{say`A lay-up`}</h1>
        <Waiting what={say`the lay-up`} />
      </div>
    );
  const page = part.data;
  return (
    <div className="page stack lay-up-page">
      <Link href={`/aircraft/${aircraft.id}/parts/${partId}`} className="way-back">
        {page.part.number} {page.part.name}
      </Link>
      <div className="stack-tight">
        <div className="row part-title">
          <h1>{rich`Lay-up of ${page.part.number}`}</h1>
          <p className="soft">
            {rich`${page.part.name} · ${page.part.group} · ${term(page.part.process)}${page.part.side === undefined ? '' : ` · ${term(page.part.side)}`} · figures are of one piece`}
          </p>
        </div>
        <div role="status">
          {recorded === undefined ? null : <RecordedNotice aircraft={aircraft} recorded={recorded} />}
        </div>
      </div>
      {may ? (
        <Editor {...{ aircraft, page, setUp: setUp.data, parts: parts.data.parts, onRecorded: setRecorded }} />
      ) : (
        <>
          <p className="notice">{say`An engineer makes and changes lay-ups; your role reads them.`}</p>
          <ReadOnly page={page} shown={shownIn(aircraft)} />
        </>
      )}
    </div>
  );
}

type Shows = {
  readonly aircraft: AircraftReport;
  readonly page: PartPageReport;
  readonly setUp: SetUpReport;
  readonly parts: readonly PartReport[];
  readonly onRecorded: (recorded: RecordedReport) => void;
};

function Editor(props: Shows) {
  const { aircraft, page, setUp, parts } = props;
  const root = useRef<HTMLDivElement>(null);
  const shown = useMemo(() => shownIn(aircraft), [aircraft]);
  const list = useMemo(() => listOf(setUp), [setUp]);
  const context = useMemo(() => ({ materials: list, process: page.part.process }), [list, page.part.process]);
  const { partId } = page.part;
  const begin = useMemo(() => beginningOf(page), [page]);
  const of = useSchedule({ aircraftId: aircraft.id, partId, begin, context, lengthUnit: aircraft.lengthUnit });
  useLineKeys(root, of);
  const estimate = useEstimate({ of, aircraft, page, setUp }, root, props.onRecorded);
  const copied = useMemo(() => materialsIn(of.draft.copied), [of.draft.copied]);
  const materials = useMemo(() => {
    const own = new Map(copied.map((one) => [materialKey(one.name), one]));
    return [...new Map([...list, ...own]).values()];
  }, [list, copied]);
  const outlined = outlinedBy(page);
  const lines = { of, aircraft, materials, shown };
  return (
    <div ref={root} className="stack">
      <Above {...{ of, aircraft, page, parts, list }} />
      <NoList aircraft={aircraft} list={list} copiedCount={copied.length} />
      <MovedNotice of={of} copied={copied} list={list} />
      <div className="lay-up">
        <Regions {...lines} outlined={outlined} process={page.part.process} />
        <div className="lay-up-side">
          <Sums of={of} shown={shown} />
        </div>
      </div>
      <RecordCard {...{ of, aircraft, page, setUp, shown, estimate }} />
      <p role="status" className="hidden-words">
        {of.said}
      </p>
      <LeaveDialog isTyped={of.isTyped} isKept={of.isKept} onDrop={() => of.drop(begin)} />
      <Bar {...{ of, page, begin, shown, estimate }} />
    </div>
  );
}

function Regions(
  props: Parameters<typeof RegionCard>[0] extends infer Props
    ? Omit<Props, 'region' | 'at'> & { readonly process: string }
    : never,
) {
  const { of, process } = props;
  return (
    <div className="stack">
      <WettingCard {...props} process={process} />
      {of.draft.regions.map((region, at) => (
        <RegionCard key={region.key} {...props} region={region} at={at} />
      ))}
      <div className="row">
        <Button onPress={of.addRegion}>{say`Another region`}</Button>
        <p className="soft small keys">
          {rich`${<kbd>{say`Enter`}</kbd>} adds the next line · ${<kbd>{say`Alt`}</kbd>} + ${<kbd>↑</kbd>} or ${<kbd>↓</kbd>} moves it · ${<kbd>{say`Alt`}</kbd>} + ${<kbd>{say`Delete`}</kbd>} removes it. ${<em>{say`Covers`}</em>} takes a share of the region, or the area of a local reinforcement: 0.04\u00a0m².`}
        </p>
      </div>
    </div>
  );
}

function Above(
  props: Pick<Shows, 'aircraft' | 'page' | 'parts'> & {
    readonly of: Schedule;
    readonly list: ReadonlyMap<string, Material>;
  },
) {
  const { of, aircraft, page, parts } = props;
  const [, navigate] = useLocation();
  const mirrorOf = new URLSearchParams(useSearch()).get('mirror');
  const from = parts.find(({ partId }) => partId === mirrorOf);
  const [isTaking, setTaking] = useState(from !== undefined);
  const [taken, setTaken] = useState<string>();
  const other = otherSideOf(page, parts);
  return (
    <div className="stack-tight no-print">
      <div className="row">
        <Button slim onPress={() => setTaking(true)}>{say`Take from another part …`}</Button>
        {page.layUp === undefined || other === undefined ? null : (
          <Button
            slim
            onPress={() => navigate(`/aircraft/${aircraft.id}/parts/${other.partId}/lay-up?mirror=${page.part.partId}`)}
          >{rich`Mirror it to ${other.number} …`}</Button>
        )}
        <Link href={`/aircraft/${aircraft.id}/set-up/materials`} className="button slim">{say`List of materials`}</Link>
      </div>
      {taken === undefined ? null : (
        <p className="notice good" role="status">
          {taken}
        </p>
      )}
      {isTaking ? (
        <TakeDialog
          aircraftId={aircraft.id}
          parts={parts}
          list={props.list}
          beginning={{ number: from?.number ?? '', how: from === undefined ? 'copy' : 'mirror' }}
          isReplacing={of.isTyped || page.layUp !== undefined}
          onTaken={(draft, words) => {
            of.replace(draft);
            setTaken(words);
            setTaking(false);
          }}
          onClose={() => setTaking(false)}
        />
      ) : null}
    </div>
  );
}

function NoList(props: {
  readonly aircraft: AircraftReport;
  readonly list: ReadonlyMap<string, Material>;
  readonly copiedCount: number;
}) {
  const { aircraft, list } = props;
  const [done, setDone] = useState<string>();
  if (done !== undefined)
    return (
      <p className="notice good" role="status">
        {done}
      </p>
    );
  if (list.size > 0 || props.copiedCount > 0) return null;
  return (
    <div className="notice stack-tight">
      <p>{say`The list of materials is empty. Describe what you need as you go, by typing its name into a line, or begin with rows that are common practice.`}</p>
      <div>
        <StarterMaterials aircraft={aircraft} missing={STARTER_MATERIALS} onDone={setDone} />
      </div>
    </div>
  );
}

function listOf({ materials }: SetUpReport): ReadonlyMap<string, Material> {
  return new Map(
    materials.flatMap(({ material, isWithdrawn }) => (isWithdrawn ? [] : [[materialKey(material.name), material]])),
  );
}

function materialsIn(copied: readonly MaterialWords[]): readonly Material[] {
  return copied.flatMap((words) => materialFromWords(new FieldReader(words)) ?? []);
}

function beginningOf({ part, layUp, estimates }: PartPageReport): Kept {
  const [estimate] = estimates;
  const flash = estimate === undefined ? undefined : estimateInWords(estimate).flash;
  const stated = estimate?.evidence === 'calculated' ? estimateInWords(estimate).allowance : undefined;
  return {
    draft: layUp === undefined ? emptyDraft(newId, part.name || part.number) : draftOf(layUp.schedule, newId),
    beside: { ...(flash === undefined ? {} : { flash }), ...(stated === undefined ? {} : { allowance: stated }) },
    begunAt: estimate?.seq,
  };
}

/** The outer skin of a shell is what is laid up; the surface of a solid counts both its faces. */
function outlinedBy({ estimates }: PartPageReport) {
  const geometry = estimates.find((estimate) => estimate.geometry !== undefined)?.geometry;
  if (geometry === undefined || geometry.shape !== 'shell') return undefined;
  return { areaM2: geometry.areaM2, edgeM: geometry.openEdgeM > 0 ? geometry.openEdgeM : undefined };
}

function otherSideOf({ part }: PartPageReport, parts: readonly PartReport[]): PartReport | undefined {
  const turned = (text: string) => otherSideInName(text);
  return (
    parts.find(({ number }) => number !== part.number && number === turned(part.number)) ??
    parts.find(({ number, name }) => number !== part.number && name !== part.name && name === turned(part.name))
  );
}
