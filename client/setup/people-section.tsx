/** Who may do what. Accounts are the shop's and not one aircraft's, so they have a screen of their own; the way there starts here. */
import { Link } from 'wouter';
import { useMay } from '../frame/signed-in.ts';

const ROLES = [
  { role: 'Viewer', may: 'reads everything of the aircraft that are open to them' },
  { role: 'Crew', may: 'also weighs, records check weights, and writes notes' },
  { role: 'Engineer', may: 'also adds parts, estimates, measures arms, corrects entries, and decides on pieces' },
  {
    role: 'Lead',
    may: 'also sets targets, describes the aircraft and its scales, moves the datum, and lets people in',
  },
] as const;

export function PeopleSection() {
  const isLead = useMay('lead');
  return (
    <section className="card stack" aria-label="People and access">
      <h2>People and access</h2>
      <p>Everybody has an account of their own; every entry carries the initials of who was signed in.</p>
      <dl className="set-up-facts">
        {ROLES.map(({ role, may }) => (
          <div key={role}>
            <dt>{role}</dt>
            <dd>{may}</dd>
          </div>
        ))}
      </dl>
      {isLead ? (
        <div>
          <Link href="/people" className="button plain">
            Accounts, roles and access
          </Link>
        </div>
      ) : (
        <p className="soft">The lead gives accounts and roles.</p>
      )}
    </section>
  );
}
