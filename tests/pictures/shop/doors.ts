/** The server's doors as a screen uses them; what is refused ends the run with its words. */
import { randomUUID } from 'node:crypto';
import type { APIRequestContext } from 'playwright-core';

export class Doors {
  readonly request: APIRequestContext;
  readonly address: string;

  constructor(request: APIRequestContext, address: string) {
    this.request = request;
    this.address = address;
  }

  async post<Answer>(path: string, data: object): Promise<Answer> {
    const answer = await this.request.post(`${this.address}/api${path}`, { data });
    if (!answer.ok()) throw new Error(`${path}: ${await answer.text()}`);
    return (await answer.json()) as Answer;
  }

  async get<Answer>(path: string): Promise<Answer> {
    return (await (await this.request.get(`${this.address}/api${path}`)).json()) as Answer;
  }

  of(aircraftId: string): AircraftDoors {
    return new AircraftDoors(this, `/aircraft/${aircraftId}`);
  }
}

export class AircraftDoors {
  readonly doors: Doors;
  readonly at: string;

  constructor(doors: Doors, at: string) {
    this.doors = doors;
    this.at = at;
  }

  /** With an id of its own. */
  send<Answer>(path: string, words: object): Promise<Answer> {
    return this.doors.post(`${this.at}${path}`, { id: randomUUID(), ...words });
  }

  get<Answer>(path: string): Promise<Answer> {
    return this.doors.get(`${this.at}${path}`);
  }

  record(words: object): Promise<unknown> {
    return this.send('/entries', words);
  }
}
