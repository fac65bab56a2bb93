/** Record an entry: which kind, then its fields. Only what a person may record is offered. */

import { useState } from 'react';
import { Link } from 'wouter';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import { ROLE_OF_KIND } from '#shared/contract/kind-roles.ts';
import { mayAs } from '#shared/contract/people.ts';
import { say } from '#shared/words/say.ts';
import { usePerson } from '../frame/signed-in.ts';
import { Button, Field } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { rich } from '../words/rich.ts';
import { useDraft } from './draft.ts';
import { EntryForm } from './entry-form.tsx';
import type { Form } from './field-spec.ts';
import { KIND_GROUPS, KIND_SPECS, type Kind } from './kinds.ts';
import { useStandingWords } from './use-standing-words.ts';
import './record.css';

type Props = {
  readonly aircraft: AircraftReport;
  readonly onRecorded: (recorded: RecordedReport) => void;
  readonly onClose: () => void;
};

export function RecordDialog(props: Props) {
  const [kind, setKind] = useState<Kind>();
  return (
    <Dialog
      title={kind === undefined ? say`What is to be recorded?` : KIND_SPECS[kind].title}
      isOpen
      isForm
      isWide
      onClose={props.onClose}
    >
      {kind === undefined ? (
        <KindChoice aircraft={props.aircraft} onChoose={setKind} onClose={props.onClose} />
      ) : (
        <RecordForm key={kind} {...props} kind={kind} onOther={() => setKind(undefined)} />
      )}
    </Dialog>
  );
}

function KindChoice(props: {
  readonly aircraft: AircraftReport;
  readonly onChoose: (kind: Kind) => void;
  readonly onClose: () => void;
}) {
  const { role } = usePerson();
  const groups = KIND_GROUPS.map(({ title, kinds }) => ({
    title,
    kinds: kinds.filter((kind) => mayAs(role, ROLE_OF_KIND[kind])),
  })).filter(({ kinds }) => kinds.length > 0);
  return (
    <>
      {groups.map(({ title, kinds }) => (
        <section key={title} className="stack-tight" aria-label={title}>
          <h3 className="soft small">{title}</h3>
          <div className="kind-buttons">
            {kinds.map((kind) => (
              <Button key={kind} onPress={() => props.onChoose(kind)}>
                <span className="kind-button">
                  <strong>{KIND_SPECS[kind].title}</strong>
                  <span className="soft small">{KIND_SPECS[kind].hint}</span>
                </span>
              </Button>
            ))}
          </div>
        </section>
      ))}
      <p className="soft small">{rich`A part on the scale is weighed on ${<Link href={`/aircraft/${props.aircraft.id}/weigh`}>{say`Weigh`}</Link>}, which judges it at once.`}</p>
      <div className="acts">
        <Button onPress={props.onClose}>{say`Cancel`}</Button>
      </div>
    </>
  );
}

function RecordForm(props: Props & { readonly kind: Kind; readonly onOther: () => void }) {
  const { aircraft, kind } = props;
  const draft = useDraft(`${aircraft.id} ${kind}`, () => ({}));
  const standing = useStandingWords(aircraft.id, kind, draft);
  return (
    <EntryForm
      aircraft={aircraft}
      kind={kind}
      draft={draft}
      standing={standing}
      body={(words) => ({
        id: draft.id,
        kind,
        ...words,
        ...filled(draft.form, 'happenedOn'),
        ...filled(draft.form, 'remark'),
      })}
      before={
        <div className="row between">
          <p className="soft">{KIND_SPECS[kind].hint}</p>
          <Button slim kind="quiet" onPress={props.onOther}>{say`‹ Another kind`}</Button>
        </div>
      }
      after={(problemAt) => (
        <Field
          label={say`Remark`}
          value={draft.form['remark'] ?? ''}
          onChange={(remark) => draft.set({ remark })}
          problem={problemAt('/remark')}
        />
      )}
      main={say`Record it`}
      onRecorded={props.onRecorded}
      onClose={props.onClose}
    />
  );
}

function filled(form: Form, name: string): Form {
  const text = (form[name] ?? '').trim();
  return text === '' ? {} : { [name]: text };
}
