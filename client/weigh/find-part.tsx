/** Find the part by number or name: what is still to be weighed comes first. */
import { useDeferredValue, useMemo, useState } from 'react';
import { Input, Label, SearchField } from 'react-aria-components';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { PartReport } from '#shared/contract/reports.ts';
import { usePerson } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { findParts } from '../pieces/find-parts.ts';
import { FlagWord } from '../pieces/flag-word.tsx';
import { shownIn } from '../pieces/units.ts';
import { notSaved } from './kept.ts';

/** More than a page of large buttons is no help: typing narrows it. */
const MOST_SHOWN = 24;

export function FindPart(props: {
  readonly parts: readonly PartReport[];
  readonly aircraft: AircraftReport;
  readonly onChoose: (part: PartReport) => void;
  readonly onCheck: () => void;
}) {
  const [search, setSearch] = useState('');
  const words = useDeferredValue(search);
  const found = useMemo(() => {
    // What only holds other parts comes up when it is asked for by name.
    const isOffered = (part: PartReport) => part.estimateKg !== undefined || part.weighed.length > 0;
    return findParts(words.trim() === '' ? props.parts.filter(isOffered) : props.parts, words);
  }, [props.parts, words]);
  const shown = shownIn(props.aircraft);
  const personId = usePerson().id;
  const unsaved = useMemo(() => {
    const kept = notSaved({ aircraftId: props.aircraft.id, personId });
    return props.parts.flatMap((part) => {
      const reading = kept.get(part.partId);
      return reading === undefined ? [] : [{ part, reading }];
    });
  }, [props.aircraft.id, personId, props.parts]);
  return (
    <section className="stack" aria-label="Find the part">
      <div className="find-tools">
        <SearchField className="search stack-tight" value={search} onChange={setSearch} autoFocus>
          <Label className="label">Which part is on the scale?</Label>
          <Input placeholder="Number or name" />
        </SearchField>
        <Button onPress={props.onCheck}>Check weight</Button>
      </div>
      {unsaved.length === 0 ? null : (
        <div className="notice warn stack-tight">
          <strong>Typed today and not saved yet</strong>
          <div className="row">
            {unsaved.map(({ part, reading }) => (
              <Button key={part.partId} onPress={() => props.onChoose(part)}>
                {part.number}: {reading}
              </Button>
            ))}
          </div>
        </div>
      )}
      <div className="part-buttons">
        {found.slice(0, MOST_SHOWN).map((part) => (
          <Button key={part.partId} onPress={() => props.onChoose(part)}>
            <span className="part-button">
              <span className="part-button-head">
                <strong>{part.number}</strong>
                {part.flag === undefined || part.flag === 'in line' ? null : <FlagWord flag={part.flag} />}
              </span>
              <span>{part.name}</span>
              <span className="soft small">
                {part.estimateKg === undefined
                  ? part.childCount > 0
                    ? 'an assembly'
                    : 'no estimate yet'
                  : `estimate ${shown.massWithUnit(part.estimateKg)}${part.quantity === 1 ? '' : ' each'}`}
                {' · '}
                {weighedWords(part)}
              </span>
            </span>
          </Button>
        ))}
      </div>
      {found.length === 0 ? (
        <p className="notice">
          No part has “{words}” in its number or name. Check the label, or ask the engineer to add the part.
        </p>
      ) : null}
      {found.length > MOST_SHOWN ? (
        <p className="soft">{found.length - MOST_SHOWN} more: type some of the number or name.</p>
      ) : null}
    </section>
  );
}

function weighedWords(part: PartReport): string {
  if (part.childCount > 0) return part.asAssembly === undefined ? 'not weighed' : 'weighed as an assembly';
  if (part.weighed.length === 0) return 'not weighed';
  if (part.weighed.length < part.quantity) return `${part.weighed.length} of ${part.quantity} weighed`;
  return part.quantity === 1 ? 'weighed' : 'all weighed';
}
