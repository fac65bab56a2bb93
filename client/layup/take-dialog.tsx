/** The lay-up of another part taken over: as it is, or as its mirror image; with the figures that the list of materials has now. */

import { useState } from 'react';
import type { PartReport } from '#shared/contract/reports.ts';
import { draftOf, type ScheduleDraft } from '#shared/layup/draft.ts';
import type { Material } from '#shared/layup/material.ts';
import { mirroredLayUp, withListedMaterials } from '#shared/layup/mirror.ts';
import { say } from '#shared/words/say.ts';
import { newId, wordsOf } from '../door/ask.ts';
import { partQuestion, queries } from '../door/queries.ts';
import { Button, Choice } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { partNamed } from '../pieces/find-parts.ts';
import { PartField } from '../record/part-field.tsx';
import { rich } from '../words/rich.ts';

const HOW = [
  { value: 'copy', words: say`as it is` },
  { value: 'mirror', words: say`as its mirror image` },
] as const;
type How = (typeof HOW)[number]['value'];

export function TakeDialog(props: {
  readonly aircraftId: string;
  readonly parts: readonly PartReport[];
  readonly list: ReadonlyMap<string, Material>;
  readonly beginning: { readonly number: string; readonly how: How };
  readonly isReplacing: boolean;
  readonly onTaken: (draft: ScheduleDraft, words: string) => void;
  readonly onClose: () => void;
}) {
  const { beginning } = props;
  const [number, setNumber] = useState(beginning.number);
  const [how, setHow] = useState<How>(beginning.how);
  const [problem, setProblem] = useState<string>();
  const take = async () => {
    const part = partNamed(props.parts, number);
    if (part === undefined) return setProblem(say`Choose a part of this aircraft by its number.`);
    try {
      const page = await queries.fetchQuery(partQuestion(props.aircraftId, part.partId));
      if (page.layUp === undefined)
        return setProblem(say`${part.number} has no lay-up yet. Choose a part that has one.`);
      const listed = withListedMaterials(page.layUp.schedule, props.list);
      const draft = draftOf(how === 'mirror' ? mirroredLayUp(listed) : listed, newId);
      props.onTaken(
        draft,
        say`The lay-up of ${part.number} is taken over${how === 'mirror' ? say`, mirrored` : ''}; not recorded yet.`,
      );
    } catch (error) {
      setProblem(wordsOf(error));
    }
  };
  return (
    <Dialog title={say`Take the lay-up of another part`} isOpen isForm onClose={props.onClose}>
      <form
        className="stack"
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          void take();
        }}
      >
        <PartField
          label={say`Part`}
          value={number}
          parts={props.parts}
          problem={problem}
          onChange={(text) => {
            setProblem(undefined);
            setNumber(text);
          }}
        />
        <Choice label={say`Take it`} options={HOW} value={how} onChange={setHow} />
        <p className="soft small">
          {rich`A mirror image turns names of sides and single angles: +45° becomes −45°. Figures of materials are those of the list now.${props.isReplacing ? say` What stands here is replaced.` : ''}`}
        </p>
        <div className="acts">
          <Button kind="main" type="submit">{say`Take it`}</Button>
          <Button onPress={props.onClose}>{say`Cancel`}</Button>
        </div>
      </form>
    </Dialog>
  );
}
