/** Small pictures beside figures. The figures say the same in words, so screen readers pass these over. */

/** The range takes the middle half of the track; what lies further out than the track ends at its end. */
const RANGE_FROM = 0.25;
const RANGE_SHARE = 0.5;

export function RangeGauge(props: {
  readonly at: number | undefined;
  readonly low: number | undefined;
  readonly high: number | undefined;
}) {
  const { at, low, high } = props;
  if (at === undefined || low === undefined || high === undefined || high <= low) return null;
  const along = RANGE_FROM + (RANGE_SHARE * (at - low)) / (high - low);
  return (
    <div className="gauge" aria-hidden="true">
      <span className="gauge-range" />
      <span className="gauge-mark" style={{ left: `${Math.min(0.98, Math.max(0.02, along)) * 100}%` }} />
    </div>
  );
}

export function ShareGauge({ share }: { readonly share: number }) {
  return (
    <div className="gauge" aria-hidden="true">
      <span className="gauge-share" style={{ width: `${Math.min(1, Math.max(0, share)) * 100}%` }} />
    </div>
  );
}
