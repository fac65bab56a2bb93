/** Stands between browser and server as a network does: it can be cut, swallow an answer on its way back, or bring another file. */
import { createServer, type IncomingMessage, request, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';

export class Gate {
  readonly #server: Server;
  /** Shut: every connection is broken off, those that are open too. */
  #isShut = false;
  /** True for a request whose answer is lost on its way back, after the server has done what was asked. */
  loses: (request: IncomingMessage) => boolean = () => false;
  /** What has been asked, as "POST /api/…", and the status it was answered with. */
  readonly asked: { readonly what: string; readonly status: number | undefined }[] = [];
  /** The text of a file instead of the server's. */
  rewrite: ((path: string, text: string) => string) | undefined;
  address = '';

  private constructor(to: { readonly port: number }) {
    this.#server = createServer((incoming, outgoing) => this.#pass(incoming, outgoing, to.port));
  }

  static async before(to: { readonly port: number }): Promise<Gate> {
    const gate = new Gate(to);
    await new Promise<void>((resolve) => gate.#server.listen(0, '127.0.0.1', resolve));
    gate.address = `http://127.0.0.1:${(gate.#server.address() as AddressInfo).port}`;
    return gate;
  }

  shut(): void {
    this.#isShut = true;
    this.#server.closeAllConnections();
  }

  open(): void {
    this.#isShut = false;
  }

  async end(): Promise<void> {
    this.shut();
    await new Promise((resolve) => this.#server.close(resolve));
  }

  #pass(incoming: IncomingMessage, outgoing: ServerResponse, port: number): void {
    const cut = () => outgoing.destroy();
    if (this.#isShut) {
      cut();
      return;
    }
    const { url = '/', method = 'GET' } = incoming;
    // What is rewritten must not come packed.
    const { 'accept-encoding': _, ...headers } = incoming.headers;
    const onward = request({ host: '127.0.0.1', port, path: url, method, headers }, (answer) => {
      this.asked.push({ what: `${method} ${url}`, status: answer.statusCode });
      if (this.loses(incoming)) {
        answer.resume();
        answer.on('end', cut);
        return;
      }
      if (this.rewrite === undefined) {
        outgoing.writeHead(answer.statusCode ?? 502, answer.headers);
        outgoing.flushHeaders();
        answer.pipe(outgoing);
        return;
      }
      this.#rewritten(answer, outgoing, { url, rewrite: this.rewrite });
    });
    onward.on('error', cut);
    outgoing.on('close', () => onward.destroy());
    incoming.pipe(onward);
  }

  #rewritten(
    answer: IncomingMessage,
    outgoing: ServerResponse,
    { url, rewrite }: { readonly url: string; readonly rewrite: (path: string, text: string) => string },
  ): void {
    const { 'content-length': _, ...headers } = answer.headers;
    outgoing.writeHead(answer.statusCode ?? 502, headers);
    outgoing.flushHeaders();
    if (!/html|json|javascript/.test(headers['content-type'] ?? '')) {
      answer.pipe(outgoing);
      return;
    }
    const pieces: Buffer[] = [];
    answer.on('data', (piece: Buffer) => pieces.push(piece));
    answer.on('end', () => outgoing.end(rewrite(url, Buffer.concat(pieces).toString('utf8'))));
  }
}
