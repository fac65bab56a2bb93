/** A small chain with an entry of every kind, all of which a ledger takes. Invented. */
import { stationOf } from '#shared/geometry/geometry.ts';
import { aircraftWeighingOf } from '../aircraft-weighing/make-weighings.ts';
import { keptGeometry } from '../geometry/make-mesh.ts';
import {
  aircraftOf,
  allowancesOf,
  armOf,
  assemblyOf,
  Chain,
  checkOf,
  datumOf,
  dispositionOf,
  estimateOf,
  installedOf,
  loadingOf,
  materialOf,
  noteOf,
  partIdOf,
  partOf,
  processCauseOf,
  removedOf,
  scaleOf,
  targetsOf,
  weighingOf,
  withdrawnOf,
} from '../ledger/make-entries.ts';

/** Words with all that a cell may choke on. */
export const AWKWARD = '=cmd|"/c"!A1; "quoted", tab\there,\r\nnext line — ünïcode 𝄞';

export function everyKind(): Chain {
  const chain = new Chain();
  chain.record(aircraftOf({ macM: 1.25, lemacM: 3.3, typed: { mac: '1.25 m' } }), { remark: AWKWARD });
  chain.record(partOf(1, { quantity: 3, side: 'left', name: '-5 is a name' }));
  chain.record(estimateOf(1, { xM: -1.5, massStdKg: 1e-7, typed: { estimate: '4 kg', x: '-1.5 m' } }));
  const weighed = chain.record(weighingOf(1, 4.2, { scale: 'Bench', lot: "'L-1", typed: { temperature: '21 °C' } }));
  chain.correct(weighed, weighingOf(1, 4.1));
  const slip = chain.record(noteOf(AWKWARD, 1));
  chain.correct(slip, undefined, { remark: '@home' });
  chain.record(partOf(2, { number: 'P-2' }));
  chain.record(partOf(3, { parentPartId: partIdOf(2), process: 'prepreg' }));
  chain.record(estimateOf(3, { massKg: 2 }));
  chain.record(weighingOf(3, 2.1, { condition: 'trimmed' }));
  chain.record(assemblyOf(2, 6.3, [3], { xM: 2 }));
  chain.record(armOf(1, { xM: 1.25, armStdM: 0.002, typed: { x: '1.25 m' } }));
  chain.record(withdrawnOf(1, [2]));
  chain.record(installedOf(1, [3]));
  chain.record(dispositionOf(3, 'accepted', { inspection: 'tapped' }));
  chain.record(processCauseOf('prepreg', 11));
  chain.record(scaleOf('Bench', { gainStd: 0.0001, calibratedOn: '2026-02-01', dueOn: '2026-12-31' }));
  chain.record(checkOf('Bench', 10.004));
  chain.record(
    materialOf({
      is: 'resin',
      name: 'Epoxy',
      densityKgM3: 1150,
      std: 0,
      basis: 'stated',
      typed: { density: '1150 kg/m³' },
    }),
  );
  chain.record(datumOf(-0.25));
  chain.record(targetsOf(372, { groups: [{ group: 'wing', massKg: 90 }, { group: 'tail' }] }));
  chain.record(allowancesOf(0.3));
  chain.record(loadingOf());
  chain.record(partOf(4));
  chain.record(removedOf(4));
  chain.record(aircraftWeighingOf(undefined, { missing: [{ partId: partIdOf(1), pieces: [2] }] }), {
    on: '2026-05-20',
  });
  const geometry = keptGeometry();
  chain.record(estimateOf(1, { massKg: 4, geometry, ...stationOf(geometry) }));
  return chain;
}
