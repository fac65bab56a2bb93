/**
 * Weigh at the mould: find the part, read the scale, see at once whether it is in line, say why if not, save, next part. Everything
 * typed stays until it is saved, whatever the network and the session do.
 */

import { lazy, type ReactNode, Suspense, useEffect, useMemo, useRef, useState } from 'react';
import { Link, useLocation, useSearch } from 'wouter';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { PartReport } from '#shared/contract/reports.ts';
import { findByCode } from '#shared/label/code.ts';
import { numberKey } from '#shared/part/from-words.ts';
import { say } from '#shared/words/say.ts';
import { useAircraftList, useParts } from '../door/queries.ts';
import { useMay } from '../frame/signed-in.ts';
import { copyLedger } from '../offline/ledger-copy.ts';
import { Button } from '../pieces/controls.tsx';
import { Empty, Failed, Waiting } from '../pieces/states.tsx';
import { KeptNotice } from '../queue/kept-notice.tsx';
import { PartsAsOf } from '../queue/parts-as-of.tsx';
import { QueueCard } from '../queue/queue-card.tsx';
import { useAgain, withQueued } from '../queue/queued-of-part.tsx';
import { StoreNotice } from '../queue/store-notice.tsx';
import { useQueue } from '../queue/use-queue.ts';
import { RecordedNotice } from '../record/recorded-notice.tsx';
import { rich } from '../words/rich.ts';
import { notFoundWords } from '../words/scanning.ts';
import { CheckWeight } from './check-weight.tsx';
import { FindPart } from './find-part.tsx';
import { NextParts } from './next-parts.tsx';
import { rememberWeighed } from './recent.ts';
import { SavedNotice } from './saved-notice.tsx';
import { type Undo, useWedge } from './use-wedge.ts';
import { WeighPart } from './weigh-part.tsx';
import './weigh.css';

// The camera, and what reads a code in its pictures, come when somebody asks for them.
const CameraPanel = lazy(() => import('./camera-panel.tsx'));

export function WeighScreen({ aircraft }: { readonly aircraft: AircraftReport }) {
  const mayWeigh = useMay('crew');
  const parts = useParts(aircraft.id);
  // The part stands in the address: the browser's way back leads to the finder, and nothing is lost by loading the page anew.
  const address = new URLSearchParams(useSearch());
  const number = address.get('part');
  const queue = useQueue();
  const known = useMemo(() => withQueued(parts.data?.parts ?? [], queue), [parts.data, queue]);
  const part = known.find((one) => one.number === number);
  // What the ledger has more by now, for judging without a server.
  useEffect(() => {
    if (mayWeigh && parts.dataUpdatedAt > 0) void copyLedger(aircraft.id);
  }, [mayWeigh, aircraft.id, parts.dataUpdatedAt]);
  const again = useAgain(address.get('again'), part);
  const piece = pieceOf(part, address.get('piece'));
  const [, navigate] = useLocation();
  const finder = `/aircraft/${aircraft.id}/weigh`;
  const open = (
    chosen: PartReport,
    options: { readonly replace?: boolean; readonly piece?: number | undefined } = {},
  ) => {
    setSaved(undefined);
    setNotFound(undefined);
    setChecking(false);
    setAfter(undefined);
    const ofPiece = options.piece === undefined ? '' : `&piece=${options.piece}`;
    navigate(`${finder}?part=${encodeURIComponent(chosen.number)}${ofPiece}`, { replace: options.replace === true });
    window.scrollTo({ top: 0 });
  };
  // Back from the finder does not lead to a part that is done with.
  const leave = () => navigate(finder, { replace: true });
  const [saved, setSaved] = useState<ReactNode>();
  /** What was weighed a moment ago, from which the hands go on. */
  const [after, setAfter] = useState<{ readonly partId: string; readonly pieces: readonly number[] }>();
  const [isChecking, setChecking] = useState(false);
  const [isScanning, setScanning] = useState(false);
  const [notFound, setNotFound] = useState<string>();
  const fleet = useAircraftList().data ?? [];
  const undo: Undo = useRef(() => () => {});
  const onCode = (text: string) => {
    const aircraftIds = fleet.map(({ id }) => id);
    const found = findByCode(text, { aircraftId: aircraft.id, parts: parts.data?.parts ?? [], aircraftIds });
    // One part after the other: the way back is to the finder.
    if (found.is === 'part') return open(found.part, { piece: found.piece, replace: part !== undefined });
    const other =
      found.is === 'of another aircraft' ? fleet.find(({ id }) => id === found.aircraftId)?.name : undefined;
    setNotFound(notFoundWords(found, other));
    window.scrollTo({ top: 0 });
  };
  useWedge({
    undo,
    isNumber: (text) => parts.data?.parts.some((one) => numberKey(one.number) === numberKey(text)) === true,
    onCode,
  });

  if (!mayWeigh)
    return (
      <div className="page">
        <Empty isPage title={say`Your role reads only`}>
          <p>{say`Ask the lead to make you crew to weigh parts.`}</p>
        </Empty>
      </div>
    );
  if (parts.isPending)
    return (
      <div className="page">
        <h1 className="hidden-words">{say`Weigh a part`}</h1>
        <Waiting what={say`the parts`} />
      </div>
    );
  if (parts.isLoadingError)
    return (
      <div className="page stack">
        <h1>{say`Weigh a part`}</h1>
        <Failed error={parts.error} again={() => void parts.refetch()} />
      </div>
    );
  if (parts.data.parts.length === 0)
    return (
      <div className="narrow-page">
        <Empty isPage title={say`There are no parts to weigh yet`}>
          <p>{rich`The engineer brings the parts list first. ${<Link href={`/aircraft/${aircraft.id}/ledger`}>{say`The ledger`}</Link>} says how.`}</p>
        </Empty>
      </div>
    );
  return (
    <div className="page stack weigh">
      <h1 className="hidden-words">{say`Weigh a part`}</h1>
      <div className="saved" role="status">
        {part === undefined ? saved : null}
      </div>
      <StoreNotice />
      <PartsAsOf aircraft={aircraft} />
      {part === undefined && !isChecking ? <QueueCard aircraft={aircraft} parts={known} /> : null}
      {notFound === undefined ? null : (
        <div className="notice warn row between" role="alert">
          <p>{notFound}</p>
          <Button onPress={() => setNotFound(undefined)}>{say`Close`}</Button>
        </div>
      )}
      {part === undefined && !isChecking ? (
        <NextParts after={after} parts={known} onChoose={(next, options) => open(next, options)} />
      ) : null}
      {isScanning && part === undefined && !isChecking ? (
        <Suspense fallback={null}>
          <CameraPanel onCode={onCode} onClose={() => setScanning(false)} />
        </Suspense>
      ) : null}
      {isChecking ? (
        <CheckWeight
          aircraft={aircraft}
          undo={undo}
          onRecorded={(recorded) => {
            setChecking(false);
            setSaved(<RecordedNotice aircraft={aircraft} recorded={recorded} />);
            window.scrollTo({ top: 0 });
          }}
          onBack={() => setChecking(false)}
        />
      ) : part === undefined ? (
        <FindPart
          parts={known}
          aircraft={aircraft}
          undo={undo}
          onChoose={open}
          onCode={onCode}
          onScan={isScanning ? undefined : () => setScanning(true)}
          onCheck={() => {
            setAfter(undefined);
            setSaved(undefined);
            setChecking(true);
          }}
        />
      ) : (
        <WeighPart
          key={`${part.partId} ${again?.id ?? ''} ${piece ?? ''}`}
          aircraft={aircraft}
          part={part}
          parts={known}
          piece={piece}
          undo={undo}
          again={again}
          onKept={(one, why) => {
            rememberWeighed(aircraft.id, part.partId);
            setAfter({ partId: part.partId, pieces: one.reading.pieces });
            setSaved(<KeptNotice one={one} why={why} />);
            leave();
            window.scrollTo({ top: 0 });
          }}
          onSaved={(recorded, preview) => {
            const said = recorded.entry.entry;
            rememberWeighed(aircraft.id, part.partId);
            setAfter({ partId: part.partId, pieces: said.kind === 'weighing' ? said.pieces : [1] });
            setSaved(
              <SavedNotice
                aircraft={aircraft}
                part={part}
                recorded={recorded}
                preview={preview}
                onCorrected={(correction) => setSaved(<RecordedNotice aircraft={aircraft} recorded={correction} />)}
              />,
            );
            leave();
            window.scrollTo({ top: 0 });
          }}
          onLeave={leave}
          onOther={(other) => open(other, { replace: true })}
        />
      )}
    </div>
  );
}

/** The piece that a label names, where the part has it. */
function pieceOf(part: PartReport | undefined, text: string | null): number | undefined {
  const piece = /^[1-9]\d{0,4}$/.test(text ?? '') ? Number(text) : undefined;
  return part !== undefined && piece !== undefined && piece <= part.quantity ? piece : undefined;
}
