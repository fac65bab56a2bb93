/** One open item: what, of what, since when, what it costs, and the acts that close it. */

import { Link } from 'wouter';
import { mayAs } from '#shared/contract/people.ts';
import { say, term } from '#shared/words/say.ts';
import { usePerson } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { Day } from '../pieces/day.tsx';
import type { Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import { About, subjectText } from './about.tsx';
import { type Act, actsOf, placeOf } from './acts.ts';
import type { OpenThing } from './overdue.ts';

export function OpenRow(props: {
  readonly aircraftId: string;
  readonly item: OpenThing;
  readonly shown: Shown;
  readonly onAct: (act: Act, item: OpenThing) => void;
}) {
  const { aircraftId, item, shown } = props;
  const { what, name, since, marginKg, cgEffectM } = item;
  const { role } = usePerson();
  const acts = actsOf(item, aircraftId);
  const own = acts.filter((act) => mayAs(role, act.role));
  const subject = subjectText(item);
  return (
    <tr>
      <th scope="row">
        <span className="open-what">{term(what)}</span>
        <span className="open-of">
          <Link href={placeOf(item, aircraftId)}>{subject}</Link>
          {name === undefined ? null : <span className="soft"> {name}</span>}
        </span>
      </th>
      <td className="open-about">
        <About item={item} shown={shown} />
      </td>
      <td data-name={say`since`} className={since === undefined ? 'open-none' : ''}>
        {since === undefined ? '–' : <Day of={since} />}
      </td>
      <td
        className={`number ${marginKg === undefined ? 'open-none' : ''}`}
        data-name={say`margin, ${shown.units.mass}`}
      >
        {shown.mass(marginKg, { sign: true })}
      </td>
      <td className={`number ${cgEffectM === undefined ? 'open-none' : ''}`} data-name={say`CG`}>
        {cgEffectM === undefined ? '–' : shown.cgEffect(cgEffectM)}
      </td>
      <td className="open-act no-print">
        {own.length === 0 ? <span className="soft small">{rich`for the ${term(acts[0].role)}`}</span> : null}
        <div className="open-acts">
          {own.map((act) =>
            act.by === 'screen' ? (
              <Link key={act.words} href={act.href} className="button slim" aria-label={`${act.words}: ${subject}`}>
                {act.words}
              </Link>
            ) : (
              <Button
                key={act.words}
                slim
                aria-label={`${act.words}: ${subject}`}
                onPress={() => props.onAct(act, item)}
              >
                {act.words}
              </Button>
            ),
          )}
        </div>
      </td>
    </tr>
  );
}
