/** What the page knows: the events opened here, the log of the one that is on, and how it stands with
 * the server. Everything shown comes from here, and everything here from the phone's store. */

import { FULL_RACK } from "$shared/leaves";
import { standing, type Standing } from "$shared/journal";
import { gameOf, laneOf, nextInPractice, PRACTICE, type Bowled, type Game, type Place } from "$shared/game";
import { Sender, type Reach } from "$shared/sync";
import type { Counting, Jotting, Pocket, ShotPayload, Status } from "$shared/types";
import { openDatabase, type KeptPocket, type Row } from "./database";
import { inBrowser, inPage, type Keeping } from "./keeping";
import { LogBox, type Draft } from "./log";
import { lanesOf, practiceStep } from "./setup";

const EVENT = "event";
const KNOWN = "server known";
const halvesName = (event: string) => `halves ${event}`;
const gameName = (event: string) => `game ${event}`;

export class Phone {
  /** Events opened here; null till the store was read. */
  kept = $state.raw<KeptPocket[] | null>(null);
  event = $state<string | null>(null);
  /** The log of the event; null till the store was read. */
  rows = $state.raw<Row[] | null>(null);
  reach = $state<Reach>("unknown");
  /** Whether a server of ours was ever met at this address. */
  known = $state(false);
  /** The program that answered last when it was asked who it is. */
  program = $state.raw<Status | null>(null);
  /** The game chosen last. */
  private chosen = $state(PRACTICE);
  /** What is half entered, by name: shots and other forms. */
  halves = $state.raw<Record<string, object>>({});
  /** Practice shots there were when a full rack was asked for. */
  private skipped = $state(-1);
  /** Whether what is written outlives the open page. */
  lasts = $state(true);
  /** Why the page has to be closed, if it has. */
  broken = $state("");

  pocket: Pocket | null = $derived(this.kept?.find(({ event }) => event === this.event)?.pocket ?? null);
  counting: Counting = $derived(this.pocket?.event.counting ?? "traditional");
  standing: Standing[] = $derived(standing(this.rows ?? []));
  shots: Bowled[] = $derived(
    this.standing
      .filter(({ jotting }) => jotting.kind === "shot")
      .map(({ root, jotting }) => ({ root, shot: jotting.payload as unknown as ShotPayload })),
  );
  games: Map<number, Game> = $derived(this.scored());
  /** The game that is on: the one chosen, or the next one when that is full. */
  game: number = $derived(this.gameOn());
  bowled: Bowled[] = $derived(this.shots.filter(({ shot }) => shot.game === this.game));
  place: Place | null = $derived(
    this.game === PRACTICE ? this.practicePlace() : (this.games.get(this.game)?.next ?? null),
  );
  lanes: [number, number] = $derived(this.pocket ? lanesOf(this.pocket, this.game) : [1, 2]);
  lane: number = $derived(this.laneNow());
  /** The shot that was written down last, of those that stand. */
  lastShot = $derived(this.lastWritten());
  unsent: number = $derived((this.rows ?? []).filter(({ sent }) => sent === "unsent").length);
  /** Kept here, and not at the server as it is: to be looked at. */
  doubtful: Row[] = $derived(this.doubtfulRows());

  /** How often something was written here: what was read before that is out of date. */
  private written = 0;
  private keeping: Keeping | null = null;
  private sender: Sender | null = null;
  private readonly tabs = "BroadcastChannel" in globalThis ? new BroadcastChannel("nextpair-at-the-lanes") : null;

  /** Open the store and read it. With `sends`, keep in step with the server from then on. */
  async start(sends: boolean): Promise<void> {
    const database = await openDatabase(() => (this.broken = "A newer version of this page is open. Close this one.")).catch(() => null);
    this.keeping = database ? inBrowser(database) : inPage();
    this.lasts = database !== null;
    this.known = (await this.store().own<boolean>(KNOWN)) ?? false;
    await this.readPockets();
    await this.choose((await this.store().own<string>(EVENT)) ?? this.kept?.[0]?.event ?? null);
    if (this.tabs) this.tabs.onmessage = () => void this.read();
    document.addEventListener("visibilitychange", () => void this.read());
    void navigator.storage?.persist?.().catch(() => false);
    if (!database || !sends) return;
    this.sender = new Sender(new LogBox(database, () => this.changed()), this.known, (reach) => this.heard(reach), (status) => (this.program = status));
    this.sender.start();
  }

  private async readPockets(): Promise<void> {
    this.kept = await this.store().pockets();
  }

  /** Read the log again: another tab, or the server, added to it. */
  private async read(): Promise<void> {
    const { event, written } = this;
    await this.readPockets();
    const rows = event ? await this.store().rowsOf(event) : [];
    if (event !== this.event || written !== this.written) return this.read();
    this.rows = rows;
  }

  private changed(): void {
    this.tabs?.postMessage("changed");
    void this.read();
  }

  private heard(reach: Reach): void {
    this.reach = reach;
    if (reach === "away" || this.known) return;
    this.known = true;
    void this.store().keepOwn(KNOWN, true);
  }

  private store(): Keeping {
    if (!this.keeping) throw new Error("The phone's store is not open.");
    return this.keeping;
  }

  /** Take an event's pocket in and make it the one that is on. */
  async open(pocket: Pocket): Promise<void> {
    await this.store().keepPocket(pocket);
    await this.readPockets();
    await this.choose(pocket.event_id);
    this.tabs?.postMessage("changed");
    void this.sender?.soon();
  }

  /** Turn to an event. */
  async choose(event: string | null): Promise<void> {
    const rows = event ? await this.store().rowsOf(event) : [];
    const practice = this.kept?.find((one) => one.event === event)?.pocket.event.practice_minutes;
    const chosen = event ? await this.store().own<number>(gameName(event)) : undefined;
    this.halves = (event && (await this.store().own<Record<string, object>>(halvesName(event)))) || {};
    this.event = event;
    this.rows = rows;
    this.chosen = chosen ?? (practice ? PRACTICE : 1);
    if (event) await this.store().keepOwn(EVENT, event);
  }

  /** Turn to a game of the event; 0 is practice. */
  async turnTo(game: number): Promise<void> {
    this.chosen = game;
    if (this.event) await this.store().keepOwn(gameName(this.event), game);
  }

  /** Write down; durable and shown when this resolves. */
  async jot(...drafts: Draft[]): Promise<Row[]> {
    if (!this.event) throw new Error("No event is open.");
    const rows = await this.store().write(this.event, drafts);
    this.written += 1;
    this.rows = [...new Map([...(this.rows ?? []), ...rows].map((row) => [row.id, row])).values()];
    this.tabs?.postMessage("changed");
    void this.sender?.soon();
    return rows;
  }

  /** Take in what another device wrote. Returns how many jottings were new. */
  async takeIn(jottings: Row["jotting"][]): Promise<number> {
    const added = await this.store().takeIn(jottings);
    this.changed();
    void this.sender?.soon();
    return added;
  }

  /** Try again what the server turned away. */
  async tryAgain(): Promise<void> {
    await this.store().sendAgain(this.doubtful.map(({ id }) => id));
    this.changed();
    void this.sender?.soon();
  }

  sendNow(): void {
    void this.sender?.soon();
  }

  /** What is half entered under a name. */
  half<T extends object>(name: string): Partial<T> | undefined {
    return this.halves[name];
  }

  /** Keep what is half entered under its name, or let go of it. */
  keepHalf(name: string, half: object | null): void {
    const { [name]: _before, ...others } = this.halves;
    this.halves = half ? { ...others, [name]: half } : others;
    if (this.event) void this.store().keepOwn(halvesName(this.event), this.halves);
  }

  /** In practice the lane of its step; in a game the lanes by turns. */
  private laneNow(): number {
    const frame = this.place?.frame ?? 1;
    const step = this.game === PRACTICE && this.pocket ? practiceStep(this.pocket, frame)?.lane : undefined;
    return step !== undefined && this.lanes.includes(step) ? step : laneOf(this.bowled, this.lanes, frame);
  }

  /** Leave the pins of practice as they stand, for a full rack. */
  fullRack(): void {
    this.skipped = this.bowled.length;
  }

  private practicePlace(): Place {
    const place = nextInPractice(this.bowled);
    if (place.delivery === 1 || this.skipped !== this.bowled.length) return place;
    return { frame: place.frame + 1, delivery: 1, standing: FULL_RACK };
  }

  private lastWritten(): { root: string; shot: ShotPayload; jotting: Jotting } | null {
    const last = this.standing.filter(({ jotting }) => jotting.kind === "shot").at(-1);
    return last ? { ...last, shot: last.jotting.payload as unknown as ShotPayload } : null;
  }

  private scored(): Map<number, Game> {
    const count = this.pocket?.event.games ?? 0;
    const numbers = Array.from({ length: count }, (_, index) => index + 1);
    return new Map(numbers.map((game) => [game, gameOf(this.shots.filter(({ shot }) => shot.game === game), this.counting)]));
  }

  private gameOn(): number {
    let game = this.chosen;
    while (game > PRACTICE && this.games.get(game)?.next === null && this.games.has(game + 1)) game += 1;
    return game;
  }

  private doubtfulRows(): Row[] {
    const rows = this.rows ?? [];
    const corrected = new Set(rows.map(({ jotting }) => jotting.supersedes));
    return rows.filter(({ id, sent }) => (sent === "conflict" || sent === "refused") && !corrected.has(id));
  }
}

export const phone = new Phone();
