/** Set-up: what the aircraft is and is meant to weigh, what it is weighed on, who may what, and whether the ledger is whole. */

import { Link } from 'wouter';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { say } from '#shared/words/say.ts';
import { useMay } from '../frame/signed-in.ts';
import { AccessSection } from './access-section.tsx';
import { ActsSection } from './acts-section.tsx';
import { AircraftSection } from './aircraft-section.tsx';
import { AllowancesSection } from './allowances-section.tsx';
import { BackupSection } from './backup-section.tsx';
import { CarrySection } from './carry-section.tsx';
import { GroupsSection } from './groups-section.tsx';
import { MaterialsSection } from './materials-section.tsx';
import { PeopleSection } from './people-section.tsx';
import { ScalesSection } from './scales-section.tsx';
import { TargetsSection } from './targets-section.tsx';
import { VerifySection } from './verify-section.tsx';
import './setup.css';
import './setup-tables.css';

const SECTIONS = [
  { path: 'aircraft', words: say`Aircraft`, show: AircraftSection },
  { path: 'targets', words: say`Targets`, show: TargetsSection },
  { path: 'groups', words: say`Groups`, show: GroupsSection },
  { path: 'allowances', words: say`Allowances`, show: AllowancesSection },
  { path: 'materials', words: say`Materials`, show: MaterialsSection },
  { path: 'scales', words: say`Scales`, show: ScalesSection },
  { path: 'people', words: say`People`, show: PeopleSection },
  { path: 'access', words: say`Access`, show: AccessSection },
  { path: 'verify', words: say`Verify the ledger`, show: VerifySection },
  { path: 'carry', words: say`Carry out, bring in`, show: CarrySection },
  { path: 'backup', words: say`Back up`, show: BackupSection },
  { path: 'acts', words: say`Who did what`, show: ActsSection },
] as const;

// biome-ignore lint/style/noDefaultExport: React's lazy loads a screen by its default export.
export default function SetupScreen(props: {
  readonly aircraft: AircraftReport;
  readonly section: string | undefined;
}) {
  const { aircraft } = props;
  const isLead = useMay('lead');
  const here = SECTIONS.find(({ path }) => path === props.section) ?? SECTIONS[0];
  return (
    <div className="page stack">
      <div className="set-up-title">
        <h1>{say`Set-up`}</h1>
        <p className="soft">{aircraft.name}</p>
      </div>
      {isLead ? null : <p className="notice">{say`The lead changes what stands here; your role reads it.`}</p>}
      <div className="set-up">
        <nav aria-label={say`Set-up`} className="set-up-nav no-print">
          {SECTIONS.map(({ path, words }) => (
            <Link
              key={path}
              href={`/aircraft/${aircraft.id}/set-up/${path}`}
              aria-current={path === here.path ? 'page' : undefined}
            >
              {words}
            </Link>
          ))}
        </nav>
        <here.show aircraft={aircraft} />
      </div>
    </div>
  );
}
