/** A statement that was recorded, in the words of its fields: what was typed where it was kept, else the figure in SI. */
import { allowanceField } from '#shared/estimate/allowance.ts';
import { estimateInWords } from '#shared/estimate/in-words.ts';
import { ERROR_FIELDS } from '#shared/estimate/shop-errors.ts';
import { materialInWords } from '#shared/layup/material-words.ts';
import type { Statement, StatementOf } from '#shared/ledger/entry.ts';

/** Before the name of a group whose target is meant. */
export const GROUP_PREFIX = 'groups/';

type Words = Record<string, string | undefined>;

/** Numbers of parts by id, for what a statement says of other parts. */
export type PartNumbers = ReadonlyMap<string, string>;

/** By field; targets of groups under `groups/` and the group's name. What is nested (a lay-up, loading limits) is not among them. */
export function statementInWords(
  statement: Statement,
  part: string,
  numbers: PartNumbers,
): Readonly<Record<string, string>> {
  const words: Words = { ...(part === '' ? {} : { part }), ...own(statement, numbers) };
  return Object.fromEntries(
    Object.entries(words).flatMap(([name, text]) => (text === undefined ? [] : [[name, text]])),
  );
}

function own(statement: Statement, numbers: PartNumbers): Words {
  switch (statement.kind) {
    case 'aircraft':
      return {
        name: statement.name,
        datum: statement.datum,
        levelling: statement.levelling,
        mac: statement.typed['mac'] ?? metres(statement.macM),
        lemac: statement.typed['lemac'] ?? metres(statement.lemacM),
        'mass unit': statement.massUnit,
        'length unit': statement.lengthUnit,
        'oil in empty weight': oilWord(statement.oilIsEmptyWeight),
      };
    case 'part added': {
      const { number, name, group, quantity, process, side, parentPartId } = statement;
      const assembly = parentPartId === undefined ? undefined : numbers.get(parentPartId);
      return { part: undefined, number, name, group, quantity: String(quantity), process, side, assembly };
    }
    case 'part removed':
      return { reason: statement.reason };
    case 'estimate':
      return estimateInWords(statement);
    case 'weighing':
      return weighingWords(statement);
    case 'assembly weighing':
      return { ...onScaleWords(statement), ...armWords(statement) };
    case 'aircraft weighing':
      return { 'signed by': statement.signedBy, 'signed on': statement.signedOn, 'signed as': statement.signedAs };
    case 'arm measured':
      return {
        how: statement.how ?? (statement.supports === undefined ? '' : 'on two supports'),
        ...measuredWords(statement),
      };
    case 'piece withdrawn':
      return { piece: statement.pieces.join(', '), reason: statement.reason };
    case 'piece installed':
      return { piece: statement.pieces.join(', ') };
    case 'disposition':
      return { piece: statement.pieces.join(', '), decision: statement.decision, inspection: statement.inspection };
    case 'process cause':
      return {
        process: statement.process,
        release: statement.releaseSeq === undefined ? undefined : String(statement.releaseSeq),
        'sum of': statement.sum?.by,
        name: statement.sum?.name,
        cause: statement.cause,
        found: statement.found,
      };
    case 'scale':
      return scaleWords(statement);
    case 'check weight':
      return {
        scale: statement.scale,
        reference: statement.typed['reference'] ?? kilograms(statement.referenceKg),
        shown: statement.typed['shown'] ?? kilograms(statement.shownKg),
        limit: statement.typed['limit'] ?? kilograms(statement.limitKg),
      };
    case 'material':
      return { ...materialInWords(statement.material), withdrawn: statement.isWithdrawn === true ? 'yes' : undefined };
    case 'datum moved':
      return {
        shift: statement.typed['shift'] ?? metres(statement.shiftM),
        datum: statement.datum,
        reason: statement.reason,
      };
    case 'targets':
      return targetWords(statement);
    case 'allowances':
      return {
        ...Object.fromEntries(
          statement.shares.map(({ process, evidence, growth }) => {
            const field = allowanceField(process, evidence);
            return [field, statement.typed[field] ?? perCent(growth)];
          }),
        ),
        ...Object.fromEntries(
          (['processShiftStd', 'pieceToPieceStd'] as const).flatMap((name) => {
            const [std, field] = [statement[name], ERROR_FIELDS[name]];
            return std === undefined ? [] : [[field, statement.typed[field] ?? perCent(std)]];
          }),
        ),
        reason: statement.reason,
      };
    case 'loading':
      return {};
    case 'note':
      return { text: statement.text };
  }
}

function oilWord(isIn: boolean | undefined): string | undefined {
  return isIn === undefined ? undefined : isIn ? 'yes' : 'no';
}

type Placed = Pick<StatementOf<'assembly weighing'>, 'xM' | 'yM' | 'zM' | 'armStdM' | 'typed'>;

function armWords({ xM, yM, zM, armStdM, typed }: Placed): Words {
  return {
    x: typed['x'] ?? metres(xM),
    y: typed['y'] ?? metres(yM),
    z: typed['z'] ?? metres(zM),
    'arm uncertainty': typed['arm uncertainty'] ?? metres(armStdM),
  };
}

function measuredWords(statement: StatementOf<'arm measured'>): Words {
  if (statement.supports !== undefined) return supportWords(statement);
  return statement.balance === undefined ? armWords(statement) : balanceWords(statement);
}

function balanceWords({ balance, armStdM, typed, yM, zM }: StatementOf<'arm measured'>): Words {
  return {
    'balance point': typed['balance point'] ?? metres(balance?.pointM),
    'balance uncertainty': typed['balance uncertainty'] ?? metres(armStdM),
    'bench zero': typed['bench zero'] ?? metres(balance?.benchZeroM || undefined),
    y: typed['y'] ?? metres(yM),
    z: typed['z'] ?? metres(zM),
  };
}

function supportWords({ supports, typed, yM, zM }: StatementOf<'arm measured'>): Words {
  return {
    'first load': typed['first load'] ?? kilograms(supports?.firstNetKg),
    'first station': typed['first station'] ?? metres(supports?.firstM),
    'second load': typed['second load'] ?? kilograms(supports?.secondNetKg),
    'second station': typed['second station'] ?? metres(supports?.secondM),
    'bench zero': typed['bench zero'] ?? metres(supports?.benchZeroM || undefined),
    'load uncertainty': typed['load uncertainty'],
    'station uncertainty': typed['station uncertainty'],
    y: typed['y'] ?? metres(yM),
    z: typed['z'] ?? metres(zM),
  };
}

type OnScale = Pick<
  StatementOf<'weighing'>,
  'condition' | 'readings' | 'scale' | 'fixture' | 'resolutionFrom' | 'grossResolutionKg'
>;

function onScaleWords({ condition, readings, scale, fixture, resolutionFrom, grossResolutionKg }: OnScale): Words {
  const tares = readings.map(({ tareKg, typed }) => typed['tare'] ?? kilograms(tareKg || undefined) ?? '');
  return {
    condition,
    gross: readings.map(({ grossKg, typed }) => typed['gross'] ?? kilograms(grossKg)).join(' / '),
    tare: tares.every((tare) => tare === '') ? undefined : tares.join(' / '),
    scale,
    fixture,
    resolution: resolutionFrom === 'stated' ? kilograms(grossResolutionKg) : undefined,
  };
}

function weighingWords(weighing: StatementOf<'weighing'>): Words {
  const { typed, temperatureC, humidityFraction, lot, batch, operator, cause, resin } = weighing;
  return {
    piece: weighing.pieces.join(', '),
    ...onScaleWords(weighing),
    lot,
    batch,
    operator,
    cause,
    temperature: typed?.['temperature'] ?? (temperatureC === undefined ? undefined : `${temperatureC} °C`),
    humidity: typed?.['humidity'] ?? perCent(humidityFraction),
    'resin mixed': typed?.['resin mixed'] ?? kilograms(resin?.mixedKg),
    'resin left': typed?.['resin left'] ?? kilograms(resin?.leftKg || undefined),
    'resin in lines': typed?.['resin in lines'] ?? kilograms(resin?.inLinesKg || undefined),
  };
}

function scaleWords({
  scale,
  typed,
  capacityKg,
  resolutionKg,
  calibratedOn,
  dueOn,
  gainStd,
}: StatementOf<'scale'>): Words {
  const stated = typed['calibration uncertainty'];
  const standard = stated === undefined && gainStd > 0;
  return {
    scale,
    capacity: typed['capacity'] ?? kilograms(capacityKg),
    resolution: typed['resolution'] ?? kilograms(resolutionKg),
    calibrated: calibratedOn,
    'calibration due': dueOn,
    'calibration uncertainty': standard ? perCent(gainStd) : stated,
    coverage: standard ? '1' : typed['coverage'],
  };
}

function targetWords(targets: StatementOf<'targets'>): Words {
  const { typed } = targets;
  return {
    'empty mass': typed['empty mass'] ?? kilograms(targets.emptyMassKg),
    reserve: typed['reserve'] ?? kilograms(targets.reserveKg || undefined),
    'cg forward': typed['cg forward'] ?? metres(targets.cgForwardM),
    'cg aft': typed['cg aft'] ?? metres(targets.cgAftM),
    'part limit': typed['part limit'] ?? kilograms(targets.partLimit.absoluteKg),
    'part limit share': typed['part limit share'] ?? perCent(targets.partLimit.fraction),
    reason: targets.reason,
    ...Object.fromEntries(
      targets.groups.map(({ group, massKg }) => [
        `${GROUP_PREFIX}${group}`,
        typed[`group ${group}`] ?? kilograms(massKg),
      ]),
    ),
  };
}

function kilograms(massKg: number | undefined): string | undefined {
  return massKg === undefined ? undefined : `${massKg} kg`;
}

function metres(lengthM: number | undefined): string | undefined {
  return lengthM === undefined ? undefined : `${lengthM} m`;
}

/** 0.57 x 100 is 56.99999999999999: the dust of the product is dropped. */
function perCent(fraction: number | undefined): string | undefined {
  return fraction === undefined ? undefined : `${Number((fraction * 100).toPrecision(12))} %`;
}
