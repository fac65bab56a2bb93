/**
 * Holds the one live line to the server for all tabs of this browser: over HTTP/1.1 a browser opens only six connections to a
 * server, and a line for each tab would use them up.
 */
const ports = new Set<MessagePort>();
let line: EventSource | undefined;

function tell(message: unknown): void {
  for (const port of ports) port.postMessage(message);
}

function open(): void {
  line?.close();
  line = new EventSource('/api/live');
  line.onopen = () => tell({ line: 'open' });
  line.onmessage = (event) => tell({ data: String(event.data) });
  line.onerror = () => tell({ line: line?.readyState === EventSource.CLOSED ? 'closed' : 'waiting' });
}

// The page's types know no worker's global; this is the one thing needed of it.
const scope = globalThis as unknown as { onconnect: (event: MessageEvent) => void };

scope.onconnect = (event) => {
  const port = event.ports[0];
  if (port === undefined) return;
  ports.add(port);
  port.onmessage = ({ data }) => {
    if (data === 'leave') ports.delete(port);
    // A tab that has just signed in asks for the line anew.
    if (data === 'open') open();
    if (ports.size === 0) {
      line?.close();
      line = undefined;
    }
  };
  port.start();
};
