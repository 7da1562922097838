import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Range } from "../../server/src/page/laps.js";
import { createSchedule, type Played } from "../../server/src/page/schedule.js";
import type { Song, SongNote } from "../../server/src/page/song.js";
import { property } from "../support/property.js";
import { songIn } from "../support/song-in.js";

interface Struck {
  readonly note: SongNote;
  readonly start: number;
  end: number;
  /** It has been told to end twice, or after its end. */
  isCalledOff: boolean;
}

const [ahead, lead] = [0.25, 0.08];
const round = (seconds: number): number => Number(seconds.toFixed(4));

/** A schedule driven by hand on a clock of its own, with an ear that writes down what sounds. */
function play(played: Played, { from = 0, counts = false, step = 0.05 } = {}) {
  const struck: Struck[] = [];
  const clicks: { at: number; isFirst: boolean; kind: "count" | "beat"; isCalledOff: boolean }[] = [];
  const click = (kind: "count" | "beat") => (beat: { at: number; isFirst: boolean }) => {
    const it = { ...beat, kind, isCalledOff: false };
    clicks.push(it);
    return {
      start: beat.at,
      stop: (when: number) => {
        if (when <= it.at) it.isCalledOff = true;
      },
      endAt: () => {},
    };
  };
  const schedule = createSchedule({
    strike(note, start, end) {
      const it: Struck = { note, start, end, isCalledOff: false };
      struck.push(it);
      return {
        start,
        stop(when) {
          if (when <= start) it.isCalledOff = true;
          else if (when < it.end) it.end = when;
        },
        endAt: (when) => {
          it.end = when;
        },
      };
    },
    count: click("count"),
    beat: click("beat"),
  });
  let now = 0;
  let song = played.song;
  let goesOn = true;
  schedule.start(played, from, now, counts);
  schedule.advance(now, now + ahead);
  const until = (time: number): void => {
    while (now < time - 1e-9) {
      now = Math.min(time, now + step);
      goesOn = schedule.advance(now, now + ahead);
    }
  };
  return {
    schedule,
    until,
    change(next: Played) {
      const outcome = schedule.change(next, now, now + ahead);
      if (outcome === "goes on") song = next.song;
      return outcome;
    },
    seek: (place: number, next = played) => schedule.start(next, place, now, false),
    stop: () => schedule.stop(now),
    goesOn: () => goesOn,
    place: () => schedule.placeAt(now),
    song: () => song,
    sounded: () => struck.filter(({ isCalledOff }) => !isCalledOff),
    /** `midi@start-end`, times from the first sound. */
    heard: () =>
      struck
        .filter(({ isCalledOff }) => !isCalledOff)
        .sort((a, b) => a.start - b.start || a.note.midi - b.note.midi)
        .map(({ note, start, end }) => `${note.midi}@${round(start - lead)}-${round(end - lead)}`),
    clicked: (kind: "count" | "beat") =>
      clicks
        .filter((it) => it.kind === kind && !it.isCalledOff)
        .map(({ at, isFirst }) => `${round(at - lead)}${isFirst ? "!" : ""}`)
        .join(" "),
  };
}

const as = (song: Song, speed = 1, loop?: Range): Played => ({
  song,
  speed,
  loop,
  until: undefined,
});

const text = `key C
tempo 60
section A
right | C4 D4 E4 F4 | G4 - - A4 |
left  | C3 - - -    | F3 - G3 - |
section B
right | C5 B4 A4 G4 |
left  | A2 -  -  -  |
`;
const song = songIn(text);
const inG = songIn(text, 1);
const written = [
  "48@0-4",
  "60@0-1",
  "62@1-2",
  "64@2-3",
  "65@3-4",
  "53@4-6",
  "67@4-7",
  "55@6-8",
  "69@7-8",
  "45@8-12",
  "72@8-9",
  "71@9-10",
  "69@10-11",
  "67@11-12",
];

describe("a schedule", () => {
  test("gives each note and each beat out once", () => {
    const it = play(as(song));
    it.until(14);
    expect(it.heard()).toEqual(written);
    expect(it.clicked("beat")).toBe("0! 1 2 3 4! 5 6 7 8! 9 10 11");
    expect(it.goesOn()).toBe(false);
    expect(it.place()).toBeUndefined();
  });

  test("counts a bar before it begins, at the speed that is played", () => {
    const it = play(as(song, 0.5), { from: 8, counts: true });
    expect(it.clicked("count")).toBe("0! 2 4 6");
    it.until(3);
    expect(it.schedule.isCounting(3)).toBe(true);
    expect(it.place()).toBe(8);
    it.until(8.5);
    expect(it.schedule.isCounting(8.5)).toBe(false);
    it.until(17);
    expect(it.heard()).toEqual(["45@8-16", "72@8-10", "71@10-12", "69@12-14", "67@14-16"]);
    expect(it.clicked("beat")).toBe("8! 10 12 14");
  });

  test("counts a full bar before a pickup’s bar, and the beats before the pickup", () => {
    const early = songIn("key C\ntempo 60\nlead E4 | C4 |\n");
    const it = play(as(early), { from: 4, counts: true });
    it.until(12);
    expect(it.clicked("count")).toBe("0! 1 2 3 4! 5 6");
    expect(it.heard()).toEqual(["64@7-8", "60@8-12"]);
    expect(it.clicked("beat")).toBe("7 8! 9 10 11");
  });

  test("counts into a loop once, and clicks in each round from its start", () => {
    const it = play(as(song, 1, { from: 4, to: 8 }), { from: 4, counts: true });
    it.until(12.5);
    expect(it.clicked("count")).toBe("0! 1 2 3");
    expect(it.clicked("beat")).toBe("4! 5 6 7 8! 9 10 11 12!");
  });

  test("is in time after a thousand rounds at an odd speed", () => {
    const loop = { from: 4, to: 8 };
    const it = play(
      as(songIn(text.replace("tempo 60", "tempo 97")), 0.73, { from: 240 / 97, to: 480 / 97 }),
      {
        from: 240 / 97,
        step: 0.2,
      },
    );
    it.until(3400);
    const round = ((loop.to - loop.from) * 60) / 97 / 0.73;
    const firsts = it.sounded().filter(({ note }) => note.midi === 67);
    expect(firsts.length).toBeGreaterThan(1000);
    firsts.forEach(({ start }, i) => {
      expect(Math.abs(start - lead - i * round)).toBeLessThan(1e-6);
    });
  });

  test("where somebody was kept from driving it leaves out what is over, and is in time again", () => {
    const it = play(as(song));
    it.until(0.5);
    it.schedule.advance(6.5, 6.75);
    it.until(14);
    expect(it.heard()).toEqual(
      written.filter((note) => !["62@1-2", "64@2-3", "65@3-4", "53@4-6"].includes(note)),
    );
  });
});

describe("a change while it plays", () => {
  test("of what is the same is not heard at all", () => {
    const it = play(as(song));
    for (const time of [0.03, 0.05, 1, 1.97, 2.5, 3.99, 4, 5.2, 7.96, 8.01]) {
      it.until(time);
      expect(it.change(as(songIn(text)))).toBe("goes on");
    }
    it.until(14);
    expect(it.heard()).toEqual(written);
    expect(it.clicked("beat")).toBe("0! 1 2 3 4! 5 6 7 8! 9 10 11");
  });

  test("to another key is made on the next stroke, where one is near; what is held goes over with it", () => {
    const it = play(as(song));
    it.until(1.95);
    it.change(as(inG));
    it.until(14);
    expect(it.heard()).toEqual([
      "48@0-2",
      "60@0-1",
      "62@1-2",
      "43@2-4",
      "59@2-3",
      ...[
        "60@3-4",
        "48@4-6",
        "62@4-7",
        "50@6-8",
        "64@7-8",
        "40@8-12",
        "67@8-9",
        "66@9-10",
        "64@10-11",
        "62@11-12",
      ],
    ]);
  });

  test("to another key between strokes is made at once", () => {
    const it = play(as(song));
    it.until(5);
    it.change(as(inG));
    it.until(6.5);
    expect(it.heard().slice(5)).toEqual(["53@4-4.97", "67@4-4.97", "48@4.97-6", "62@4.97-7", "50@6-8"]);
  });

  test("of speed leaves what sounds alone and gives it another end", () => {
    const it = play(as(song));
    it.until(4.93);
    it.change(as(song, 0.5));
    expect(it.place()).toBeCloseTo(4.85, 9);
    it.until(14.5);
    // From 4.9 on, a tenth of a second after 4.8, all takes twice the time.
    expect(it.heard().slice(5, 10)).toEqual([
      "53@4-7.1",
      "67@4-9.1",
      "55@7.1-11.1",
      "69@9.1-11.1",
      "45@11.1-19.1",
    ]);
  });

  test("of the text elsewhere is not heard before it comes", () => {
    const it = play(as(song));
    it.until(5.5);
    it.change(as(songIn(text.replace("C5 B4 A4 G4", "C5 D5 E5 F5"))));
    it.until(14);
    expect(it.heard()).toEqual([...written.slice(0, 11), "74@9-10", "76@10-11", "77@11-12"]);
  });

  test("of the text before it moves all that comes, and nothing that sounds", () => {
    const it = play(as(song));
    it.until(5.5);
    it.change(as(songIn(text.replace("section A", "section Start\nright | C4 | D4 |\n\nsection A"))));
    expect(it.place()).toBeCloseTo(13.42, 9);
    it.until(14);
    expect(it.heard()).toEqual(written);
  });

  test("of a note that sounds ends it, and lets the new one sound for the rest", () => {
    const it = play(as(song));
    it.until(5.1);
    it.change(as(songIn(text.replace("G4 - - A4", "B4 - - A4"))));
    it.until(7.5);
    expect(it.heard().slice(5, 9)).toEqual(["53@4-6", "67@4-5.07", "71@5.07-7", "55@6-8"]);
  });

  test("that makes a note longer or shorter moves its end", () => {
    const it = play(as(song));
    it.until(4.5);
    it.change(as(songIn(text.replace("G4 - - A4", "G4 - A4 -"))));
    it.until(6.5);
    expect(it.heard().slice(5)).toEqual(["53@4-6", "67@4-6", "55@6-8", "69@6-8"]);
  });

  test("of two in a breath is as the last one says", () => {
    const it = play(as(song));
    it.until(5);
    it.change(as(inG));
    it.change(as(songIn(text, 2)));
    it.until(5.02);
    it.change(as(song));
    it.until(14);
    // The first of them is heard for as long as it takes to tell the clock.
    expect(
      it
        .heard()
        .slice(5)
        .filter((note) => !written.includes(note)).length,
    ).toBeLessThanOrEqual(4);
    expect(it.heard().slice(-6)).toEqual(written.slice(-6));
  });

  test("of the loop goes on within it", () => {
    const it = play(as(song));
    it.until(5);
    it.change(as(song, 1, { from: 4, to: 8 }));
    it.until(8.5);
    expect(it.heard()).toEqual([...written.slice(0, 9), "53@8-10", "67@8-11"]);
  });

  test("that takes the bar away is refused, and nothing has changed", () => {
    const it = play(as(song));
    it.until(5);
    expect(it.change(as(songIn("key C\ntempo 60\nsection A\nright | C4 |\n")))).toBe("gone");
    it.until(14);
    expect(it.heard()).toEqual(written);
  });

  test("right before the end comes too late", () => {
    const it = play(as(song));
    it.until(12.05);
    expect(it.change(as(inG))).toBe("over");
    it.until(14);
    expect(it.goesOn()).toBe(false);
    expect(it.heard()).toEqual(written);
  });

  test("while it counts goes on with the count", () => {
    const it = play(as(song), { counts: true });
    it.until(3.95);
    expect(it.change(as(inG))).toBe("goes on");
    it.until(5);
    expect(it.clicked("count")).toBe("0! 1 2 3");
    expect(it.heard().slice(0, 2)).toEqual(["43@4-8", "55@4-5"]);
  });

  test("of speed while it counts counts anew", () => {
    const it = play(as(song), { counts: true });
    it.until(2.5);
    it.change(as(song, 2));
    it.until(6);
    expect(it.clicked("count")).toBe("0! 1 2 2.5! 3 3.5 4");
    expect(it.heard()[0]).toBe("48@4.5-6.5");
  });

  test("in a pickup goes on with it", () => {
    const early = (tonic?: number) =>
      songIn("key C\ntempo 60\nsection A\nleft | C3 |\nsection B\nleft | D3 |\nlead E4 F4 | G4 |\n", tonic);
    const it = play(as(early()), { from: 4 });
    it.until(0.5);
    expect(it.place()).toBe(4);
    it.change(as(early(1)));
    expect(it.place()).toBe(4);
    it.until(3);
    expect(it.heard()).toEqual(["64@0-0.47", "59@0.47-1", "60@1-2", "45@2-6", "62@2-6"]);
  });

  test("stops with all that sounds", () => {
    const it = play(as(song));
    it.until(4.1);
    it.stop();
    it.until(8);
    expect(it.heard().slice(5)).toEqual(["53@4-4.02", "67@4-4.02"]);
    expect(it.clicked("beat")).toBe("0! 1 2 3 4!");
  });

  test("by seeking begins there at once, and nothing of before sounds on", () => {
    const it = play(as(song));
    it.until(4.1);
    it.seek(8);
    it.until(5.5);
    expect(it.heard().slice(5)).toEqual(["53@4-4.02", "67@4-4.02", "45@4.1-8.1", "72@4.1-5.1", "71@5.1-6.1"]);
  });
});

/** What may happen: at a time, from a list of songs, at a speed. */
const changes = fc.array(
  fc.record({
    after: fc.double({ min: 0, max: 1.5, noNaN: true }),
    song: fc.nat({ max: 3 }),
    speed: fc.constantFrom(1, 1, 0.75, 1.3),
  }),
  { maxLength: 12 },
);
const songs = [song, inG, songIn(text, -3), songIn(text.replace("G4 - - A4", "G4 - A4 B4"))] as const;

property(
  "whatever changes, no key sounds twice, nothing hangs and nothing is skipped",
  changes,
  200,
  (all) => {
    const it = play(as(song));
    let time = 0;
    let speed = 1;
    let places: [time: number, place: number][] = [];
    const listen = (to: number): void => {
      while (time < to) {
        time = Math.min(to, time + 0.01);
        it.until(time);
        const place = it.place();
        if (place !== undefined) places.push([time, place]);
      }
    };
    for (const change of all) {
      listen(time + change.after);
      speed = change.speed;
      it.change(as(songs[change.song] as Song, speed));
    }
    listen(time + 20);
    // The place never goes back and never jumps: it runs at one of the speeds.
    places = places.filter(([at]) => at > lead + 0.02);
    places.slice(1).forEach(([at, place], i) => {
      const [before, placeBefore] = places[i] as [number, number];
      expect(place - placeBefore).toBeGreaterThan(-1e-9);
      expect(place - placeBefore).toBeLessThan((at - before) * 1.3 + 1e-6);
    });
    const sounded = it.sounded().sort((a, b) => a.start - b.start);
    // In each hand one tone at a time: the one ends where the next begins, in whatever key.
    for (const part of ["right", "left"] as const) {
      const own = sounded.filter(({ note }) => note.part === part);
      own.slice(1).forEach(({ start }, i) => {
        expect((own[i] as Struck).end - start, JSON.stringify(it.heard())).toBeLessThan(1e-6);
      });
      // And where one ends, the next begins, but for a rest that is too short for a new stroke.
      own.slice(1).forEach(({ start }, i) => {
        expect(start - (own[i] as Struck).end, JSON.stringify(it.heard())).toBeLessThan(0.15);
      });
    }
  },
);
