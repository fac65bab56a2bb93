/**
 * A part measured from a mesh (rule E5): a file is chosen or dropped, somebody says in what unit it is drawn and what it is, and where the
 * part lies in the aircraft. The file does not leave the browser; what is handed over is the evidence.
 */

import { type FormEvent, type ReactNode, useId, useState } from 'react';
import { DropZone, FileTrigger, isFileDropItem } from 'react-aria-components';
import { type Geometry, geometryOf, stationOf } from '#shared/geometry/geometry.ts';
import type { Shape } from '#shared/geometry/measure.ts';
import { explain } from '#shared/problem/registry.ts';
import { LENGTH_UNITS, type LengthUnit } from '#shared/quantity/units.ts';
import { say } from '#shared/words/say.ts';
import { Button, Choice } from '../pieces/controls.tsx';
import type { Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import { MeshFigures } from './mesh-figures.tsx';
import { PartPicture, type Surroundings } from './part-picture.tsx';
import { NOT_PLACED, PlacingFields, readPlacing } from './placing.tsx';
import { type Outcome, useMeasure } from './use-measure.ts';
import '../import/import.css';
import './geometry.css';

const SHAPES = [
  { value: 'shell', words: say`A shell: area` },
  { value: 'solid', words: say`A solid: volume` },
] as const;
const UNITS = LENGTH_UNITS.map((value) => ({ value, words: value }));
const TYPES = ['.stl', '.obj'];

/** What is asked of whom the mesh belongs to, and what becomes of it. */
type Asked = {
  /** The part's number. */
  readonly number: string;
  readonly around: Surroundings;
  readonly shown: Shown;
  /** What else is asked before it is used. */
  readonly also?: ReactNode;
  readonly use: string;
  readonly isBusy?: boolean;
  readonly problem?: string | undefined;
  readonly onUse: (geometry: Geometry) => void;
};

export function MeshPanel(props: Asked & { readonly onClose: () => void }) {
  const { shown } = props;
  const measure = useMeasure();
  const [file, setFile] = useState<File>();
  const [unit, setUnit] = useState<LengthUnit>();
  const [shape, setShape] = useState<Shape>();
  const [placing, setPlacing] = useState(NOT_PLACED);
  const [isAsked, setAsked] = useState(false);
  const { outcome } = measure;
  const anew = (change: () => void) => {
    change();
    if (outcome.is !== 'nothing') measure.forget();
  };
  const start = (event: FormEvent) => {
    event.preventDefault();
    setAsked(true);
    if (file !== undefined && unit !== undefined && shape !== undefined) measure.start({ file, unit, shape });
  };
  return (
    <div className="stack mesh-panel">
      <form className="stack" onSubmit={start} noValidate>
        <ChooseFile
          file={file}
          problem={isAsked && file === undefined ? say`Choose a file.` : undefined}
          onFile={(next) => anew(() => setFile(next))}
        />
        <Choice
          label={say`The file is drawn in`}
          options={UNITS}
          value={unit}
          onChange={(next) => anew(() => setUnit(next))}
          problem={isAsked && unit === undefined ? say`The file does not say its unit: choose it.` : undefined}
        />
        <Choice
          label={say`Measure it as`}
          options={SHAPES}
          value={shape}
          onChange={(next) => anew(() => setShape(next))}
          problem={isAsked && shape === undefined ? say`Say which of the two it is.` : undefined}
        />
        <div className="acts">
          <Button
            kind={outcome.is === 'measured' ? 'plain' : 'main'}
            type="submit"
            isDisabled={outcome.is === 'working'}
          >{say`Measure it`}</Button>
          <Button onPress={props.onClose}>{say`Close`}</Button>
        </div>
      </form>
      <Progress outcome={outcome} onStop={measure.stop} />
      {outcome.is !== 'measured' ? null : (
        <Result {...props} outcome={outcome} placing={placing} setPlacing={setPlacing} shown={shown} />
      )}
    </div>
  );
}

function ChooseFile(props: {
  readonly file: File | undefined;
  readonly problem: string | undefined;
  readonly onFile: (file: File) => void;
}) {
  const { file } = props;
  const problem = useId();
  const take = (next: File | null | undefined) => {
    if (next !== null && next !== undefined) props.onFile(next);
  };
  return (
    <DropZone
      className="drop-zone"
      aria-label={say`Drop a file here`}
      onDrop={(event) => {
        const item = event.items.find(isFileDropItem);
        void item?.getFile().then(take);
      }}
    >
      <p className="drop-words">
        {file === undefined ? (
          <span className="soft">{say`One part as STL or OBJ, up to 200 MB. Drop it here, or`}</span>
        ) : (
          <strong>{file.name}</strong>
        )}
      </p>
      <FileTrigger acceptedFileTypes={TYPES} onSelect={(files) => take(files?.[0])}>
        <Button {...(props.problem === undefined ? {} : { 'aria-describedby': problem })}>
          {file === undefined ? say`Choose a file` : say`Choose another file`}
        </Button>
      </FileTrigger>
      {props.problem === undefined ? null : (
        <span id={problem} className="problem">
          {props.problem}
        </span>
      )}
    </DropZone>
  );
}

function Progress({ outcome, onStop }: { readonly outcome: Outcome; readonly onStop: () => void }) {
  return (
    <div role="status">
      {outcome.is === 'working' ? (
        <div className="row measuring">
          <progress aria-label={say`Measured`} value={outcome.share} max={1} />
          <span className="soft">{say`Measuring …`}</span>
          <Button slim onPress={onStop}>{say`Stop`}</Button>
        </div>
      ) : null}
      {outcome.is === 'stopped' ? <p className="notice">{say`Stopped. Nothing was kept.`}</p> : null}
      {outcome.is === 'refused' ? (
        <p className="notice bad">
          {explain(outcome.refusal).words} {explain(outcome.refusal).remedy}
        </p>
      ) : null}
    </div>
  );
}

function Result(
  props: Asked & {
    readonly outcome: Extract<Outcome, { is: 'measured' }>;
    readonly placing: Parameters<typeof readPlacing>[0];
    readonly setPlacing: (placing: Parameters<typeof readPlacing>[0]) => void;
  },
) {
  const { outcome, placing, shown } = props;
  const [isAsked, setAsked] = useState(false);
  const read = readPlacing(placing, shown);
  const kept =
    read.placement === undefined ? undefined : geometryOf(outcome.evidence, outcome.measured, read.placement);
  const geometry = kept?.ok === true ? kept.value : undefined;
  const isMissing = isAsked && read.missing.length > 0;
  return (
    <section className="stack" aria-label={say`What was measured`}>
      <MeshFigures figures={outcome.measured} shown={shown} />
      <h3>{say`Where it lies in the aircraft`}</h3>
      <PlacingFields placing={placing} read={read} shown={shown} onChange={props.setPlacing} />
      {geometry === undefined ? null : <Station {...{ geometry, shown }} />}
      {geometry === undefined ? null : (
        <PartPicture {...{ number: props.number, geometry, around: props.around, shown }} />
      )}
      {props.also}
      <div role="alert">
        {isMissing ? <p className="notice bad">{rich`Still to say: ${read.missing.join(', ')}.`}</p> : null}
        {props.problem === undefined ? null : <p className="notice bad">{props.problem}</p>}
      </div>
      <div className="acts">
        <Button
          kind="main"
          isDisabled={props.isBusy === true}
          onPress={() => {
            setAsked(true);
            if (geometry !== undefined) props.onUse(geometry);
          }}
        >
          {props.isBusy === true ? say`Recording …` : props.use}
        </Button>
      </div>
    </section>
  );
}

export function Station({ geometry, shown }: { readonly geometry: Geometry; readonly shown: Shown }) {
  const { xM, yM, zM } = stationOf(geometry);
  return (
    <p
      className="notice"
      role="status"
    >{rich`Its centroid lies at x = ${<strong>{shown.lengthWithUnit(xM)}</strong>}, y = ${shown.lengthWithUnit(yM)}, z = ${shown.lengthWithUnit(zM)} in the aircraft.`}</p>
  );
}
