import { clip } from "../clip.js";
import type { Entry } from "../entry.js";

export const entry: Entry<{
  section: string;
  lands: string;
  landsOn: string;
  next: string;
  starts: string;
  degree: string;
}> = {
  severity: "warning",
  summary: "What follows a lead-in starts on another chord than it lands on.",
  message: ({ section, lands, landsOn, next, starts, degree }) =>
    `“${clip(section)}” lands on the ${lands} (${landsOn}), but ${next === "" ? "what comes after it" : `“${clip(next)}”`} starts on ${starts}, the ${degree}. Choose another lead-in here, or write “lands ${degree}”.`,
  explanation: `A section that \`lands 4\` leads into the 4 of whatever comes after it: that is what its last chords are made for. Here
the form puts it before a section that starts on another chord, so the pull goes one way and the song another.

The number is counted in the key of the section that follows, as it is played there. Pickups don't count: what matters
is the chord on the first beat after the lead-in.

Take a lead-in that lands where this song starts, or change the number if the chords do lead there.
`,
  example: `section Walk
lands 4
chords | 1 1:7 |

section Verse
chords | 1 | 4 |

form Walk Verse
`,
};
