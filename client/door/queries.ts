/** What the screens ask for, by name. A live message makes an aircraft's answers stale, and those on screen are asked again. */
import { keepPreviousData, QueryClient, queryOptions, useInfiniteQuery, useQuery } from '@tanstack/react-query';
import { useSyncExternalStore } from 'react';
import { z } from 'zod';
import {
  AircraftList,
  BreakdownListReport,
  DriftListReport,
  EntriesReport,
  GroupsReport,
  HistoryReport,
  LedgerReport,
  PairListReport,
  PartsReport,
  type ProblemReport,
  ScaleListReport,
  SplitListReport,
} from '#shared/contract/aircraft.ts';
import type { SplitKey } from '#shared/contract/drift.ts';
import {
  ForecastDaysReport,
  ForecastReport,
  GroupForecastListReport,
  ReleasesReport,
  WhatNextListReport,
} from '#shared/contract/forecast.ts';
import { AccuracyReport } from '#shared/contract/layup.ts';
import { LoadingReport } from '#shared/contract/loading.ts';
import { PartPageReport } from '#shared/contract/part.ts';
import { SessionReport } from '#shared/contract/people.ts';
import { BridgeReport, type EntryReport } from '#shared/contract/reports.ts';
import { askOrRecall, isUnanswered, SESSION_KEY } from '../offline/kept-answers.ts';
import { ask, ProblemError } from './ask.ts';

export const queries = new QueryClient({
  defaultOptions: {
    // The server may be on the shop's own network, or on this very machine: what the browser thinks of the wide one says nothing,
    // and nothing waits for it in silence.
    queries: {
      networkMode: 'always',
      staleTime: 30_000,
      // A refusal stays a refusal; only the want of an answer is worth another try, and what the server is still reading is worth waiting for.
      retry: retryAsUsual,
      retryDelay: (count, error) => (isStillReading(error) ? READ_AGAIN_MS : Math.min(1000 * 2 ** count, 30_000)),
    },
    mutations: { networkMode: 'always', retry: false },
  },
});

export function retryAsUsual(count: number, error: Error): boolean {
  return isStillReading(error) || (count < 2 && isUnanswered(error));
}

/** So often is asked how far the server has come. */
const READ_AGAIN_MS = 700;

function isStillReading(error: unknown): error is ProblemError {
  return error instanceof ProblemError && error.report.code === 'reading-ledger';
}

/** What the server said it is still reading, of whatever is being asked; undefined where nothing has to wait for that. */
export function useStillReading(): ProblemReport | undefined {
  return useSyncExternalStore(
    (tell) => queries.getQueryCache().subscribe(tell),
    () => {
      const waits = queries.getQueryCache().findAll({ fetchStatus: 'fetching' });
      return waits.map(({ state }) => state.fetchFailureReason).find(isStillReading)?.report;
    },
  );
}

export function useSession() {
  return useQuery({
    queryKey: ['session'],
    queryFn: ({ signal }) => askOrRecall('/api/session', { reply: SessionReport, signal }, SESSION_KEY),
  });
}

export function useAircraftList() {
  return useQuery({
    queryKey: ['aircraft'],
    queryFn: async ({ signal }) => (await askOrRecall('/api/aircraft', { reply: AircraftList, signal })).aircraft,
  });
}

/** `asKnownAt`: the ledger as it was known at that entry. */
export function useLedger(aircraftId: string, asKnownAt?: number) {
  return useQuery({
    queryKey: ['aircraft', aircraftId, 'ledger', asKnownAt],
    queryFn: ({ signal }) => ask(`/api/aircraft/${aircraftId}${asOf('?', asKnownAt)}`, { reply: LedgerReport, signal }),
    placeholderData: keepPreviousData,
  });
}

export function useHistory(aircraftId: string, asKnownAt?: number) {
  return useQuery({
    queryKey: ['aircraft', aircraftId, 'history', asKnownAt],
    queryFn: ({ signal }) =>
      ask(`/api/aircraft/${aircraftId}/history${asOf('?', asKnownAt)}`, { reply: HistoryReport, signal }),
    placeholderData: keepPreviousData,
  });
}

/** Where the aircraft will end. */
export function useForecast(aircraftId: string, asKnownAt?: number) {
  return useQuery({
    queryKey: ['aircraft', aircraftId, 'forecast', asKnownAt],
    queryFn: ({ signal }) =>
      ask(`/api/aircraft/${aircraftId}/forecast${asOf('?', asKnownAt)}`, { reply: ForecastReport, signal }),
    placeholderData: keepPreviousData,
  });
}

/** What each group will weigh, against its target. */
export function useGroupForecasts(aircraftId: string, asKnownAt?: number) {
  return useQuery({
    queryKey: ['aircraft', aircraftId, 'forecast groups', asKnownAt],
    queryFn: async ({ signal }) => {
      const path = `/api/aircraft/${aircraftId}/forecast/groups${asOf('?', asKnownAt)}`;
      return (await ask(path, { reply: GroupForecastListReport, signal })).groups;
    },
    placeholderData: keepPreviousData,
  });
}

/** How the aircraft may be loaded, and what comes of it; `since`: the day with which today is compared. */
export function useLoading(aircraftId: string, since?: string) {
  return useQuery({
    queryKey: ['aircraft', aircraftId, 'loading', since],
    queryFn: ({ signal }) =>
      ask(`/api/aircraft/${aircraftId}/loading${since === undefined ? '' : `?since=${since}`}`, {
        reply: LoadingReport,
        signal,
      }),
    placeholderData: keepPreviousData,
  });
}

export function useForecastDays(aircraftId: string, asKnownAt?: number) {
  return useQuery({
    queryKey: ['aircraft', aircraftId, 'forecast days', asKnownAt],
    queryFn: ({ signal }) =>
      ask(`/api/aircraft/${aircraftId}/forecast/days${asOf('?', asKnownAt)}`, { reply: ForecastDaysReport, signal }),
    placeholderData: keepPreviousData,
  });
}

/** Every process in the order of its releases. */
export function useReleases(aircraftId: string, asKnownAt?: number) {
  return useQuery({
    queryKey: ['aircraft', aircraftId, 'releases', asKnownAt],
    queryFn: async ({ signal }) =>
      (await ask(`/api/aircraft/${aircraftId}/releases${asOf('?', asKnownAt)}`, { reply: ReleasesReport, signal }))
        .processes,
    placeholderData: keepPreviousData,
  });
}

/** What would make the forecast surer. */
export function useWhatNext(aircraftId: string) {
  return useQuery({
    queryKey: ['aircraft', aircraftId, 'what next'],
    queryFn: async ({ signal }) =>
      (await ask(`/api/aircraft/${aircraftId}/forecast/next`, { reply: WhatNextListReport, signal })).rows,
  });
}

export const partsPath = (aircraftId: string) => `/api/aircraft/${aircraftId}/parts`;

function partsQuestion(aircraftId: string) {
  return queryOptions({
    queryKey: ['aircraft', aircraftId, 'parts'],
    queryFn: ({ signal }) => askOrRecall(partsPath(aircraftId), { reply: PartsReport, signal }),
  });
}

export function useParts(aircraftId: string) {
  return useQuery(partsQuestion(aircraftId));
}

/** One part with its history. */
export function partQuestion(aircraftId: string, partId: string) {
  return queryOptions({
    queryKey: ['aircraft', aircraftId, 'part', partId],
    queryFn: ({ signal }) => ask(`/api/aircraft/${aircraftId}/parts/${partId}`, { reply: PartPageReport, signal }),
  });
}

/** The target of each group that has one. */
export function useGroupTargets(aircraftId: string) {
  return useQuery({
    queryKey: ['aircraft', aircraftId, 'group targets'],
    queryFn: async ({ signal }) => {
      const { rows } = await ask(`/api/aircraft/${aircraftId}/breakdown/group`, { reply: BreakdownListReport, signal });
      return new Map(rows.flatMap(({ name, targetKg }) => (targetKg === undefined ? [] : [[name, targetKg] as const])));
    },
  });
}

/** Everything that drifts. Lists are sorted where they are shown. */
export function useFindings(aircraftId: string, asKnownAt?: number) {
  return useQuery({
    queryKey: ['aircraft', aircraftId, 'drift', asKnownAt],
    queryFn: async ({ signal }) =>
      (await ask(`/api/aircraft/${aircraftId}/drift${asOf('?', asKnownAt)}`, { reply: DriftListReport, signal }))
        .findings,
    placeholderData: keepPreviousData,
  });
}

/** The differences of weighings, split by what pieces had in common. */
export function useSplit(aircraftId: string, key: SplitKey) {
  return useQuery({
    queryKey: ['aircraft', aircraftId, 'split', key],
    queryFn: async ({ signal }) =>
      (await ask(`/api/aircraft/${aircraftId}/split/${key}`, { reply: SplitListReport, signal })).rows,
  });
}

/** What pieces weighed twice have taught. */
export function usePairs(aircraftId: string) {
  return useQuery({
    queryKey: ['aircraft', aircraftId, 'pairs'],
    queryFn: async ({ signal }) =>
      (await ask(`/api/aircraft/${aircraftId}/pairs`, { reply: PairListReport, signal })).rows,
  });
}

export function useScales(aircraftId: string) {
  return useQuery({
    queryKey: ['aircraft', aircraftId, 'scales'],
    queryFn: async ({ signal }) =>
      (await askOrRecall(`/api/aircraft/${aircraftId}/scales`, { reply: ScaleListReport, signal })).scales,
  });
}

const AccuracyAnswer = AccuracyReport.extend({ seq: z.int() });

/** Estimates by lay-up against the scale, and what is offered of it. */
export function useAccuracy(aircraftId: string) {
  return useQuery({
    queryKey: ['aircraft', aircraftId, 'lay-up accuracy'],
    queryFn: ({ signal }) => ask(`/api/aircraft/${aircraftId}/lay-up-accuracy`, { reply: AccuracyAnswer, signal }),
  });
}

const BridgeAnswer = BridgeReport.extend({ seq: z.int() });

/** `asked`: `fromDay`, `toDay` or `fromEntry`, `toEntry`; undefined where they make no period. */
export function useBridge(aircraftId: string, asked: Readonly<Record<string, string>> | undefined) {
  return useQuery({
    queryKey: ['aircraft', aircraftId, 'bridge', asked],
    queryFn: ({ signal }) =>
      ask(`/api/aircraft/${aircraftId}/bridge?${new URLSearchParams(asked)}`, { reply: BridgeAnswer, signal }),
    enabled: asked !== undefined,
    placeholderData: keepPreviousData,
  });
}

/** One entry by its number. */
export async function entryAt(aircraftId: string, seq: number, signal?: AbortSignal): Promise<EntryReport | undefined> {
  const path = `/api/aircraft/${aircraftId}/entries?before=${seq + 1}&limit=1`;
  return (await ask(path, { reply: EntriesReport, signal })).entries[0];
}

const NAMES_LAST_MS = 300_000;

/**
 * Names by part number, to be read beside the entries. They hardly change, so a moving ledger does not ask for them again. They come
 * with the rows of all parts, which are there for the table when somebody goes on to it.
 */
export function usePartNames(aircraftId: string) {
  return useQuery({
    queryKey: ['part names', aircraftId],
    queryFn: async () => {
      const { parts } = await queries.fetchQuery({ ...partsQuestion(aircraftId), staleTime: NAMES_LAST_MS });
      return new Map(parts.map((part) => [part.number, part.name]));
    },
    staleTime: NAMES_LAST_MS,
  });
}

export type EntryFilter = {
  readonly search: string;
  readonly kind: string;
  readonly asKnownAt: number | undefined;
  /** The number of a part. */
  readonly part?: string;
  /** The newest one that is shown. */
  readonly upTo?: number | undefined;
};
/** The groups that are in use or listed in the targets, to be offered wherever one is typed. */
export function useGroups(aircraftId: string): readonly string[] {
  const groups = useQuery({
    queryKey: ['aircraft', aircraftId, 'groups'],
    queryFn: async ({ signal }) =>
      (await ask(`/api/aircraft/${aircraftId}/groups`, { reply: GroupsReport, signal })).groups,
  });
  return groups.data ?? NO_GROUPS;
}
const NO_GROUPS: readonly string[] = [];

const ENTRIES_A_PAGE = 50;

export function useEntries(aircraftId: string, filter: EntryFilter) {
  return useInfiniteQuery({
    queryKey: ['aircraft', aircraftId, 'entries', filter],
    queryFn: ({ pageParam, signal }) => {
      const asked = new URLSearchParams({ limit: String(ENTRIES_A_PAGE) });
      if (filter.search !== '') asked.set('search', filter.search);
      if (filter.kind !== '') asked.set('kind', filter.kind);
      if (filter.part !== undefined) asked.set('part', filter.part);
      if (filter.asKnownAt !== undefined) asked.set('asKnownAt', String(filter.asKnownAt));
      if (pageParam !== undefined) asked.set('before', String(pageParam));
      return ask(`/api/aircraft/${aircraftId}/entries?${asked}`, { reply: EntriesReport, signal });
    },
    initialPageParam: filter.upTo === undefined ? undefined : filter.upTo + 1,
    getNextPageParam: (last) => last.next,
    placeholderData: keepPreviousData,
  });
}

/** An aircraft's ledger has moved on. */
export function ledgerMoved(aircraftId: string): void {
  void queries.invalidateQueries({ queryKey: ['aircraft', aircraftId] });
}

/** What stands beside the ledger and moves without it: proposals, briefs, the weighing that is being typed, and what is open of them. */
const BESIDE_LEDGER = new Set<unknown>(['proposals', 'aircraft-weighings', 'briefs', 'open', 'open count']);

/** Something moved beside the ledger, which stands where it stood: its own figures need not be asked for again. */
export function besideMoved(aircraftId: string): void {
  const predicate = ({ queryKey }: { readonly queryKey: readonly unknown[] }) => BESIDE_LEDGER.has(queryKey[2]);
  void queries.invalidateQueries({ queryKey: ['aircraft', aircraftId], predicate });
}

function asOf(joint: '?' | '&', asKnownAt: number | undefined): string {
  return asKnownAt === undefined ? '' : `${joint}asKnownAt=${asKnownAt}`;
}
