/** Two sets of groups to start from. A set becomes the rows of a targets form, where each may be changed before anything is recorded. */

import { type GroupSet, STARTER_GROUPS } from '#shared/target/groups.ts';
import { say } from '#shared/words/say.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import type { OpenForm } from './use-open-form.ts';

const SETS: readonly { readonly set: GroupSet; readonly title: string; readonly words: string }[] = [
  { set: 'functional', title: say`By function`, words: say`The groups of a weight statement: what a part does.` },
  { set: 'ata', title: say`ATA 100 chapters`, words: say`The chapters that maintenance papers are filed under.` },
];

export function StarterSets(props: { readonly hasGroups: boolean; readonly opens: OpenForm<GroupSet>['opens'] }) {
  const isLead = useMay('lead');
  const take = props.hasGroups ? say`Add these to the list` : say`Begin with these`;
  return (
    <div className="stack-tight">
      <h2>{props.hasGroups ? say`Sets to add from` : say`Sets to start from`}</h2>
      <p className="soft">{say`A set is a beginning: every group of it can be left out, and others added. Groups on the list are offered wherever a part is typed.`}</p>
      <div className="starter-sets">
        {SETS.map(({ set, title, words }) => (
          <section key={set} className="card stack-tight" aria-label={title}>
            <h3>{title}</h3>
            <p className="soft small">{words}</p>
            <ul className="starter-groups">
              {STARTER_GROUPS[set].map((group) => (
                <li key={group}>{group}</li>
              ))}
            </ul>
            {isLead ? (
              <div>
                <Button {...props.opens(set)} aria-label={`${take}: ${title}`}>
                  {take}
                </Button>
              </div>
            ) : null}
          </section>
        ))}
      </div>
    </div>
  );
}
