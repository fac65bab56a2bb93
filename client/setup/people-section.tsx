/** Who may do what. Accounts are the shop's and not one aircraft's, so they have a screen of their own; the way there starts here. */

import { Link } from 'wouter';
import { ROLES } from '#shared/contract/people.ts';
import { say } from '#shared/words/say.ts';
import { useMay } from '../frame/signed-in.ts';
import { ROLE_WORDS } from '../words/roles.ts';

export function PeopleSection() {
  const isLead = useMay('lead');
  return (
    <section className="card stack" aria-label={say`People`}>
      <h2>{say`People`}</h2>
      <p>{say`Everybody has an account of their own; every entry carries the initials of who was signed in.`}</p>
      <dl className="set-up-facts">
        {ROLES.map((role) => (
          <div key={role}>
            <dt>{ROLE_WORDS[role].name}</dt>
            <dd>{ROLE_WORDS[role].may}</dd>
          </div>
        ))}
      </dl>
      {isLead ? (
        <div>
          <Link href="/people" className="button plain">{say`Open People`}</Link>
        </div>
      ) : (
        <p className="soft">{say`The lead gives accounts and roles.`}</p>
      )}
    </section>
  );
}
