/** The parts as seen from the side, with a search and a table (rule R5). */

import { useCallback, useDeferredValue, useMemo, useState } from 'react';
import { Input, Label, SearchField } from 'react-aria-components';
import { Link } from 'wouter';
import type { PlacedMass, WhereReport } from '#shared/contract/where.ts';
import { LOCALE, say } from '#shared/words/say.ts';
import { Picture } from '../ledger/picture.tsx';
import { FlagWord } from '../pieces/flag-word.tsx';
import type { Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import { seenFromTheSide, sideConfig } from './side-config.ts';

const TITLE = say`The parts from the side, by mass and flag`;

/** The table has the heaviest; a search brings up the others. */
const MOST_ROWS = 100;

export function SidePicture(props: {
  readonly report: WhereReport;
  readonly shown: Shown;
  readonly aircraftId: string;
}) {
  const { report, shown, aircraftId } = props;
  const [search, setSearch] = useState('');
  // Ten thousand points are not drawn anew with every key.
  const asked = useDeferredValue(search.trim().toLowerCase());
  const heaviest = useMemo(() => [...report.masses].sort((a, b) => b.massKg - a.massKg), [report]);
  const fitting = useMemo(() => (asked === '' ? heaviest : heaviest.filter(isAsked(asked))), [heaviest, asked]);
  const seen = useMemo(() => seenFromTheSide(report.masses), [report]);
  const found = useMemo(() => (asked === '' ? undefined : new Set(seen.filter(isAsked(asked)))), [seen, asked]);
  const configure = useCallback(() => sideConfig({ report, seen, found, shown }), [report, seen, found, shown]);
  if (seen.length === 0)
    return (
      <section className="card stack-tight">
        <h2>{TITLE}</h2>
        <p>{summaryOf(report, 0, shown)}</p>
      </section>
    );
  const { mass, length, units } = shown;
  const isCut = fitting.length > MOST_ROWS;
  return (
    <Picture
      title={TITLE}
      summary={summaryOf(report, seen.length, shown)}
      configure={configure}
      tools={
        <div className="row where-tools no-print">
          <SearchField className="search slim" value={search} onChange={setSearch}>
            <Label>{say`Find a part`}</Label>
            <Input placeholder={say`Number, name or group`} />
          </SearchField>
          <p role="status" className="soft small">
            {found === undefined ? '' : foundWords(fitting.length, found.size)}
          </p>
        </div>
      }
    >
      {isCut ? (
        <p className="soft small">{rich`The ${MOST_ROWS} heaviest of ${fitting.length}; find a part to see others.`}</p>
      ) : null}
      <table>
        <thead>
          <tr>
            <th scope="col">{say`Part`}</th>
            <th scope="col">{say`Group`}</th>
            <th scope="col">{say`Flag`}</th>
            <th scope="col" className="number">
              {rich`predicted, ${units.mass}`}
            </th>
            <th scope="col" className="number">
              x, {units.length}
            </th>
            <th scope="col" className="number">
              z, {units.length}
            </th>
          </tr>
        </thead>
        <tbody>
          {fitting.slice(0, MOST_ROWS).map((one) => (
            <tr key={`${one.partId} ${one.isBeyondParts} ${one.xM ?? ''}`}>
              <th scope="row">
                {one.partId === undefined ? null : (
                  <Link href={`/aircraft/${aircraftId}/parts/${one.partId}`}>{one.number}</Link>
                )}{' '}
                {one.name}
                {one.isBeyondParts ? say`, beyond its parts` : ''}
              </th>
              <td>{one.group}</td>
              <td>{one.flag === undefined ? say`not weighed` : <FlagWord flag={one.flag} />}</td>
              <td className="number">{mass(one.massKg)}</td>
              <td className="number">{length(one.xM)}</td>
              <td className="number">{length(one.zM)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Picture>
  );
}

function isAsked(asked: string): (one: PlacedMass) => boolean {
  const words = asked.split(/\s+/);
  return ({ number, name, group }) => {
    const text = `${number}\n${name}\n${group}`.toLowerCase();
    return words.every((word) => text.includes(word));
  };
}

function foundWords(fitting: number, ringed: number): string {
  if (fitting === 0) return say`Nothing is called so.`;
  const ring = ringed === 1 ? say`one has its ring` : say`${ringed} have a ring`;
  const left = fitting === ringed ? '' : say`; ${fitting - ringed} not on the picture`;
  return say`${fitting} found, ${ring}${left}.`;
}

function summaryOf({ masses }: WhereReport, seenCount: number, { massWithUnit }: Shown): string {
  const others = masses.filter(({ xM, zM, massKg }) => !(xM !== undefined && zM !== undefined && massKg > 0));
  const othersKg = others.reduce((sum, { massKg }) => sum + massKg, 0);
  const left =
    others.length === 0
      ? ''
      : say` Left out: ${others.length === 1 ? say`one mass` : say`${others.length.toLocaleString(LOCALE)} masses`} without a station or a height, or below nothing, ${massWithUnit(othersKg)} together.`;
  if (seenCount === 0) return say`No part has a station and a height yet.${left}`;
  return say`${seenCount === 1 ? say`One mass` : say`${seenCount.toLocaleString(LOCALE)} masses`} at station and height; the area is the predicted weight. The axes have scales of their own.${left}`;
}
