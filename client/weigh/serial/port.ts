/**
 * The part of the Web Serial standard (WICG, SerialPort) that is used here. TypeScript's DOM library does not have it. Everything else in this
 * folder knows a port by this alone, so that a test brings one with a real stream.
 */
export type PortSettings = {
  readonly baudRate: number;
  readonly dataBits: 7 | 8;
  readonly parity: 'none' | 'even' | 'odd';
};

export interface ScalePort {
  readonly readable: ReadableStream<Uint8Array> | null;
  open(options: PortSettings): Promise<void>;
  close(): Promise<void>;
}

export interface ScalePorts {
  /** Those that somebody has allowed before. */
  getPorts(): Promise<readonly ScalePort[]>;
  /** Asks which one; only upon a press. Rejects with `NotFoundError` where none is chosen. */
  requestPort(): Promise<ScalePort>;
}

/** Undefined where the browser has none, or the page is no secure context. */
export function scalePorts(): ScalePorts | undefined {
  return (navigator as { readonly serial?: ScalePorts }).serial;
}
