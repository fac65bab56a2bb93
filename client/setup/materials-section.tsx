/**
 * The shop's list of materials (rule E3): what parts are laid up of, with the figures a mass is made from. Everything on it was recorded as an entry;
 * what is stated anew or withdrawn changes no estimate that was computed before.
 */

import { useState } from 'react';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { ROLE_OF_KIND } from '#shared/contract/kind-roles.ts';
import type { MaterialReport } from '#shared/contract/set-up.ts';
import { MATERIAL_KINDS, materialKey } from '#shared/layup/material.ts';
import { materialInWords } from '#shared/layup/material-words.ts';
import { STARTER_MATERIALS } from '#shared/layup/starter-materials.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { Failed, Waiting } from '../pieces/states.tsx';
import { percent } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import { Done } from './form-parts.tsx';
import { MaterialDialog } from './material-dialog.tsx';
import { basisInWords, figuresInWords, inShopUnits, KIND_TITLES } from './material-words.ts';
import { useSetUp } from './questions.ts';
import { StarterMaterials } from './starter-materials.tsx';
import { WithdrawDialog } from './withdraw-material.tsx';
import './materials.css';

type Asked = { readonly act: 'add' } | { readonly act: 'restate' | 'withdraw'; readonly of: MaterialReport };

export function MaterialsSection({ aircraft }: { readonly aircraft: AircraftReport }) {
  const setUp = useSetUp(aircraft.id);
  const may = useMay(ROLE_OF_KIND.material);
  const [asked, setAsked] = useState<Asked>();
  const [done, setDone] = useState<string>();
  if (setUp.isPending) return <Waiting what={say`the materials`} />;
  if (setUp.isLoadingError) return <Failed error={setUp.error} again={() => void setUp.refetch()} />;
  const { materials } = setUp.data;
  const listed = materials.filter(({ isWithdrawn }) => !isWithdrawn);
  const withdrawn = materials.filter(({ isWithdrawn }) => isWithdrawn);
  const known = new Set(materials.map(({ material }) => materialKey(material.name)));
  const starters = STARTER_MATERIALS.filter(({ name }) => !known.has(materialKey(name)));
  const close = (words?: string) => {
    setAsked(undefined);
    // Said once the list shows it: whoever goes on from here goes on from the new figures.
    if (words !== undefined) void setUp.refetch({ cancelRefetch: false }).then(() => setDone(words));
  };
  const latest = (of: MaterialReport) => materials.find(({ material }) => material.name === of.material.name) ?? of;
  const ask = (act: 'restate' | 'withdraw') => (of: MaterialReport) => {
    setDone(undefined);
    setAsked({ act, of });
  };
  return (
    <section className="stack" aria-label={say`Materials`}>
      <Done words={done} />
      <p className="soft">{say`The lay-up of a part takes its figures from here and keeps them: what is stated anew or withdrawn changes no estimate that was computed before.`}</p>
      {listed.length === 0 ? (
        <div className="card stack-tight">
          <h2>{say`No material yet`}</h2>
          <p>{say`Describe the rolls, cans and boards of the shop, or begin with rows that are common practice.`}</p>
        </div>
      ) : null}
      {may ? (
        <div className="row">
          <Button
            kind={listed.length === 0 ? 'plain' : 'main'}
            onPress={() => setAsked({ act: 'add' })}
          >{say`Describe a material`}</Button>
          <StarterMaterials aircraft={aircraft} missing={starters} onDone={setDone} />
        </div>
      ) : null}
      {MATERIAL_KINDS.map((is) => {
        const rows = listed.filter(({ material }) => material.is === is);
        if (rows.length === 0) return null;
        return (
          <div key={is} className="card stack-tight">
            <h2>{KIND_TITLES[is]}</h2>
            <MaterialTable rows={rows} {...(may ? { onRestate: ask('restate'), onWithdraw: ask('withdraw') } : {})} />
          </div>
        );
      })}
      {withdrawn.length === 0 ? null : (
        <details className="card">
          <summary>{rich`Withdrawn: ${withdrawn.length}`}</summary>
          <MaterialTable rows={withdrawn} {...(may ? { onRestate: ask('restate') } : {})} />
        </details>
      )}
      {asked?.act === 'add' ? (
        <MaterialDialog
          aircraft={aircraft}
          beginning={{ is: 'fabric' }}
          kinds={MATERIAL_KINDS}
          onRecorded={({ name, seq }) => close(say`${name} is on the list: entry ${seq}.`)}
          onClose={close}
        />
      ) : null}
      {asked?.act === 'restate' ? (
        <MaterialDialog
          aircraft={aircraft}
          beginning={{ ...shopWords(asked.of), is: asked.of.material.is }}
          kinds={[asked.of.material.is]}
          isRestated
          onRecorded={({ name, seq }) =>
            close(say`${name} is stated anew: entry ${seq}. Estimates made before keep their figures.`)
          }
          onClose={close}
        />
      ) : null}
      {asked?.act === 'withdraw' ? <WithdrawDialog aircraft={aircraft} of={latest(asked.of)} onClose={close} /> : null}
    </section>
  );
}

function MaterialTable(props: {
  readonly rows: readonly MaterialReport[];
  readonly onRestate?: (of: MaterialReport) => void;
  readonly onWithdraw?: (of: MaterialReport) => void;
}) {
  const { onRestate, onWithdraw } = props;
  return (
    <table className="materials">
      <thead>
        <tr>
          <th scope="col">{say`Name`}</th>
          <th scope="col">{say`Figures`}</th>
          <th scope="col" className="number">
            ±
          </th>
          <th scope="col">{say`Basis`}</th>
          {onRestate === undefined ? null : (
            <th scope="col">
              <span className="hidden-words">{say`What to do with it`}</span>
            </th>
          )}
        </tr>
      </thead>
      <tbody>
        {props.rows.map((row) => {
          const { material, happenedOn, by, seq } = row;
          return (
            <tr key={material.name}>
              <th scope="row">{material.name}</th>
              <td data-name={say`Figures`}>{figuresInWords(material)}</td>
              <td className="number" data-name="±">
                {percent(material.std)}
              </td>
              <td data-name={say`Basis`}>
                {basisInWords(material)}
                <span className="soft small block">{rich`entry ${seq}, ${dayWords(happenedOn)}, ${by}`}</span>
              </td>
              {onRestate === undefined ? null : (
                <td>
                  <div className="row material-acts">
                    <Button
                      slim
                      onPress={() => onRestate(row)}
                      aria-label={`${onWithdraw === undefined ? say`Put back` : say`State anew`}: ${material.name}`}
                    >
                      {onWithdraw === undefined ? say`Put back` : say`State anew`}
                    </Button>
                    {onWithdraw === undefined ? null : (
                      <Button
                        slim
                        kind="quiet"
                        onPress={() => onWithdraw(row)}
                        aria-label={say`Withdraw: ${material.name}`}
                      >{say`Withdraw`}</Button>
                    )}
                  </div>
                </td>
              )}
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

function shopWords({ material }: MaterialReport): Readonly<Record<string, string>> {
  const words = materialInWords(material);
  return Object.fromEntries(
    Object.entries(words).map(([field, text]) => [field, field === 'name' ? text : inShopUnits(text)]),
  );
}
