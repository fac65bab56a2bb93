/** Everything about one part. */
import type { AircraftReport } from '#shared/contract/aircraft.ts';

// biome-ignore lint/style/noDefaultExport: React's lazy loads a screen by its default export.
export default function PartScreen({
  aircraft,
  partId,
}: {
  readonly aircraft: AircraftReport;
  readonly partId: string;
}) {
  return (
    <h1>
      {aircraft.name} {partId}
    </h1>
  );
}
