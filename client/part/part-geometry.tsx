/** The geometry of the part: what was measured and where it lies, and a mesh measured anew, which revises the estimate with its station. */

import { useRef, useState } from 'react';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import { ROLE_OF_KIND } from '#shared/contract/kind-roles.ts';
import type { PartPageReport } from '#shared/contract/part.ts';
import { mayAs } from '#shared/contract/people.ts';
import { LAID_UP } from '#shared/estimate/from-words.ts';
import { estimateInWords } from '#shared/estimate/in-words.ts';
import type { Geometry } from '#shared/geometry/geometry.ts';
import { layUpInWords } from '#shared/layup/in-words.ts';
import { LOCALE, say } from '#shared/words/say.ts';
import { newId } from '../door/ask.ts';
import { useLedger, useParts } from '../door/queries.ts';
import { usePerson } from '../frame/signed-in.ts';
import { MeshFigures } from '../geometry/mesh-figures.tsx';
import { MeshPanel } from '../geometry/mesh-panel.tsx';
import { PartPicture, type Surroundings } from '../geometry/part-picture.tsx';
import { Button, Field } from '../pieces/controls.tsx';
import { typedWith } from '../pieces/typed-units.ts';
import type { Shown } from '../pieces/units.ts';
import { RecordedNotice } from '../record/recorded-notice.tsx';
import { useRecord } from '../record/use-record.ts';
import { rich } from '../words/rich.ts';
import '../geometry/geometry.css';

type Props = { readonly aircraft: AircraftReport; readonly page: PartPageReport; readonly shown: Shown };

export function PartGeometry({ aircraft, page, shown }: Props) {
  const { role } = usePerson();
  const around = useSurroundings(aircraft, page);
  const [isOpen, setOpen] = useState(false);
  const [recorded, setRecorded] = useState<RecordedReport>();
  const geometry = page.estimates[0]?.geometry;
  const { number } = page.part;
  const mayMeasure = mayAs(role, ROLE_OF_KIND.estimate);
  if (geometry === undefined && !mayMeasure) return null;
  return (
    <section className="card stack wide" aria-label={say`Geometry`}>
      <h2>{say`Geometry`}</h2>
      {geometry === undefined ? (
        <p className="soft">{say`A mesh of the part, as CAD saves it, gives its area or volume, and where its CG lies if it is of one thickness or one material throughout.`}</p>
      ) : (
        <Kept {...{ number, geometry, around, shown }} />
      )}
      {page.part.armIsMeasured && (isOpen || geometry !== undefined) ? (
        <p className="notice">{say`Its arm was measured, and that overrules the station from the geometry.`}</p>
      ) : null}
      <div role="status">
        {recorded === undefined ? null : <RecordedNotice aircraft={aircraft} recorded={recorded} />}
      </div>
      {isOpen ? (
        <Measure
          {...{ aircraft, page, shown, around }}
          onRecorded={(report) => {
            setRecorded(report);
            setOpen(false);
          }}
          onClose={() => setOpen(false)}
        />
      ) : mayMeasure ? (
        <div className="no-print">
          <Button slim onPress={() => setOpen(true)}>
            {geometry === undefined ? say`Measure a mesh` : say`Measure another mesh`}
          </Button>
        </div>
      ) : null}
    </section>
  );
}

function Kept(props: {
  readonly number: string;
  readonly geometry: Geometry;
  readonly around: Surroundings;
  readonly shown: Shown;
}) {
  const { geometry, shown } = props;
  return (
    <div className="geometry-kept">
      <div className="stack-tight">
        <p className="file-line">
          {rich`${<strong>{geometry.fileName}</strong>}, a ${geometry.shape} drawn in ${geometry.unit}${geometry.placement.isMirrored ? say`, mirrored` : ''}`}
        </p>
        <MeshFigures figures={geometry} shown={shown} />
        <p className="soft small">
          {rich`${geometry.byteLength.toLocaleString(LOCALE)} bytes; fingerprint (SHA-256) ${<span className="fingerprint">{geometry.sha256}</span>}`}
        </p>
      </div>
      <PartPicture {...props} />
    </div>
  );
}

function Measure(
  props: Props & {
    readonly around: Surroundings;
    readonly onRecorded: (recorded: RecordedReport) => void;
    readonly onClose: () => void;
  },
) {
  const { aircraft, page, shown, around } = props;
  const [estimate] = page.estimates;
  const [mass, setMass] = useState('');
  const sent = useRef<{ readonly id: string; readonly what: string }>(undefined);
  const record = useRecord(aircraft, props.onRecorded);
  const refusal = record.refusal(['/estimate']);
  const use = (geometry: Geometry) => {
    const words: Record<string, string> =
      estimate === undefined ? massWords(mass, shown) : { ...estimateInWords(estimate) };
    for (const station of ['x', 'y', 'z']) delete words[station];
    // A mass that a lay-up schedule gave goes on being that schedule's.
    const { layUp } = page;
    if (layUp !== undefined) for (const field of LAID_UP) delete words[field];
    const laidUp = layUp === undefined ? {} : { layUp: layUpInWords(layUp.schedule) };
    const body = { kind: 'estimate', part: page.part.number, ...words, ...laidUp, geometry };
    const what = JSON.stringify(body);
    // Sent again after a lost answer, it is known for the same (rule L3).
    if (sent.current?.what !== what) sent.current = { id: newId(), what };
    record.send({ id: sent.current.id, ...body });
  };
  return (
    <MeshPanel
      {...{ number: page.part.number, around, shown }}
      also={
        estimate !== undefined ? undefined : (
          <div className="stack-tight">
            <p>{say`This part has no estimate yet. A station counts with a mass, and a mesh does not say one.`}</p>
            <div className="field-grid">
              <Field
                label={say`Installed mass, each`}
                value={mass}
                onChange={setMass}
                unit={shown.units.mass}
                problem={record.problemAt('/estimate')}
              />
            </div>
          </div>
        )
      }
      use={estimate === undefined ? say`Record the estimate` : say`Revise the estimate with this station`}
      isBusy={record.isSending}
      problem={refusal}
      onUse={use}
      onClose={props.onClose}
    />
  );
}

function massWords(mass: string, shown: Shown): Record<string, string> {
  return mass.trim() === '' ? {} : { estimate: typedWith(mass.trim(), shown.units.mass) };
}

function useSurroundings(aircraft: AircraftReport, page: PartPageReport): Surroundings {
  const parts = useParts(aircraft.id).data?.parts ?? [];
  const target = useLedger(aircraft.id).data?.headline.targets;
  return {
    others: parts.filter(({ partId }) => partId !== page.part.partId),
    cgForwardM: target?.cgForwardM,
    cgAftM: target?.cgAftM,
  };
}
