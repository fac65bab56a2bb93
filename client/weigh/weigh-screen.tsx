/**
 * Weigh at the mould: find the part, read the scale, see at once whether it is in line, say why if not, save, next part. Everything
 * typed stays until it is saved, whatever the network and the session do.
 */
import { type ReactNode, useEffect, useMemo, useState } from 'react';
import { Link, useLocation, useSearch } from 'wouter';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { PartReport } from '#shared/contract/reports.ts';
import { useParts } from '../door/queries.ts';
import { useMay } from '../frame/signed-in.ts';
import { copyLedger } from '../offline/ledger-copy.ts';
import { Empty, Failed, Waiting } from '../pieces/states.tsx';
import { KeptNotice } from '../queue/kept-notice.tsx';
import { PartsAsOf } from '../queue/parts-as-of.tsx';
import { QueueCard } from '../queue/queue-card.tsx';
import { useAgain, withQueued } from '../queue/queued-of-part.tsx';
import { StoreNotice } from '../queue/store-notice.tsx';
import { useQueue } from '../queue/use-queue.ts';
import { RecordedNotice } from '../record/recorded-notice.tsx';
import { CheckWeight } from './check-weight.tsx';
import { FindPart } from './find-part.tsx';
import { SavedNotice } from './saved-notice.tsx';
import { WeighPart } from './weigh-part.tsx';
import './weigh.css';

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
  const [, navigate] = useLocation();
  const finder = `/aircraft/${aircraft.id}/weigh`;
  const open = (chosen: PartReport, options: { readonly replace?: boolean } = {}) => {
    setSaved(undefined);
    navigate(`${finder}?part=${encodeURIComponent(chosen.number)}`, options);
    window.scrollTo({ top: 0 });
  };
  // Back from the finder does not lead to a part that is done with.
  const leave = () => navigate(finder, { replace: true });
  const [saved, setSaved] = useState<ReactNode>();
  const [isChecking, setChecking] = useState(false);

  if (!mayWeigh)
    return (
      <div className="narrow-page">
        <Empty isPage title="Your role reads only">
          <p>Ask the lead to make you crew to weigh parts.</p>
        </Empty>
      </div>
    );
  if (parts.isPending)
    return (
      <div className="page">
        <h1 className="hidden-words">Weigh a part</h1>
        <Waiting what="the parts" />
      </div>
    );
  if (parts.isLoadingError)
    return (
      <div className="page stack">
        <h1>Weigh a part</h1>
        <Failed error={parts.error} again={() => void parts.refetch()} />
      </div>
    );
  if (parts.data.parts.length === 0)
    return (
      <div className="narrow-page">
        <Empty isPage title="There are no parts to weigh yet">
          <p>
            The engineer brings the parts list first. <Link href={`/aircraft/${aircraft.id}/ledger`}>The ledger</Link>{' '}
            says how.
          </p>
        </Empty>
      </div>
    );
  return (
    <div className="page stack weigh">
      <h1 className="hidden-words">Weigh a part</h1>
      <div className="saved" role="status">
        {part === undefined ? saved : null}
      </div>
      <StoreNotice />
      <PartsAsOf aircraft={aircraft} />
      {part === undefined && !isChecking ? <QueueCard aircraft={aircraft} parts={known} /> : null}
      {isChecking ? (
        <CheckWeight
          aircraft={aircraft}
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
          onChoose={open}
          onCheck={() => {
            setSaved(undefined);
            setChecking(true);
          }}
        />
      ) : (
        <WeighPart
          key={`${part.partId} ${again?.id ?? ''}`}
          aircraft={aircraft}
          part={part}
          parts={known}
          again={again}
          onKept={(one, why) => {
            setSaved(<KeptNotice one={one} why={why} />);
            leave();
            window.scrollTo({ top: 0 });
          }}
          onSaved={(recorded, preview) => {
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
