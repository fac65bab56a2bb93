/** One open item: what, of what, since when, what it costs, and the act that closes it. */
import { Link } from 'wouter';
import type { OpenItem } from '#shared/contract/open-list.ts';
import { mayAs } from '#shared/contract/people.ts';
import { usePerson } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import type { Shown } from '../pieces/units.ts';
import { About, subjectText } from './about.tsx';
import { type Act, actOf, placeOf } from './acts.ts';

export function OpenRow(props: {
  readonly aircraftId: string;
  readonly item: OpenItem;
  readonly shown: Shown;
  readonly onAct: (act: Act, item: OpenItem) => void;
}) {
  const { aircraftId, item, shown } = props;
  const { what, name, since, marginKg, cgEffectM } = item;
  const { role } = usePerson();
  const act = actOf(item, aircraftId);
  const subject = subjectText(item);
  const title = `${act.words}: ${subject}`;
  return (
    <tr>
      <th scope="row">
        <span className="open-what">{what}</span>
        <span className="open-of">
          <Link href={placeOf(item, aircraftId)}>{subject}</Link>
          {name === undefined ? null : <span className="soft"> {name}</span>}
        </span>
      </th>
      <td className="open-about">
        <About item={item} shown={shown} />
      </td>
      <td data-name="since" className={since === undefined ? 'open-none' : ''}>
        {since ?? '–'}
      </td>
      <td className={`number ${marginKg === undefined ? 'open-none' : ''}`} data-name={`margin, ${shown.units.mass}`}>
        {shown.mass(marginKg, { sign: true })}
      </td>
      <td className={`number ${cgEffectM === undefined ? 'open-none' : ''}`} data-name="CG">
        {cgEffectM === undefined ? '–' : shown.cgEffect(cgEffectM)}
      </td>
      <td className="open-act no-print">
        {!mayAs(role, act.role) ? (
          <span className="soft small">for the {act.role}</span>
        ) : act.by === 'screen' ? (
          <Link href={act.href} className="button slim" aria-label={title}>
            {act.words}
          </Link>
        ) : (
          <Button slim aria-label={title} onPress={() => props.onAct(act, item)}>
            {act.words}
          </Button>
        )}
      </td>
    </tr>
  );
}
