/**
 * The look of the page: a sheet on a music stand above a keyboard. Ink on paper, thin bar lines, chords as a headline
 * over the lines that the hands play; one light falls on what sounds. No colour says anything alone.
 */
const base = `
:root{color-scheme:light dark;--paper:#fbfaf6;--ink:#1c1b19;--faint:#5d5a53;--line:#8d897f;--light:#f3e6b8;--edge:#1c1b19;--shelf:#efece4}
@media (prefers-color-scheme:dark){:root{--paper:#1f1e1c;--ink:#ece9e1;--faint:#b3aea3;--line:#77736a;--light:#4a3f1c;--edge:#ece9e1;--shelf:#292724}}
*{box-sizing:border-box}
html{scroll-padding:1rem 0 45vh}
body{margin:0;background:var(--paper);color:var(--ink);font:1rem/1.35 system-ui,sans-serif}
.vh{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}
.skip{position:absolute;left:.5rem;top:-4rem;background:var(--paper);color:var(--ink);padding:.5rem;z-index:3}
.skip:focus{top:.5rem}
main,.desk{max-width:72rem;margin:0 auto;padding:0 1.25rem}
main{padding-bottom:2rem}
h1,h2{font-family:"Iowan Old Style",Palatino,"Palatino Linotype","Book Antiqua",Georgia,serif;font-weight:600;line-height:1.15}
h1{font-size:2.1rem;margin:1.5rem 0 .2rem}
h2{font-size:1.25rem;font-style:italic;margin:2rem 0 .1rem}
p{margin:.1rem 0}
.by,.note,.facts{color:var(--faint)}
.form{margin:.4rem 0;font-weight:600}
.system{display:flex;margin:.6rem 0 1.1rem;break-inside:avoid;content-visibility:auto;contain-intrinsic-size:auto 14rem}
.labels,.grid{display:grid;grid-auto-columns:auto;align-content:start}
.labels{flex:0 0 3.4rem;padding-right:.4rem;padding-top:1.5rem;color:var(--faint);font-size:.8rem;font-style:italic;border-right:2px solid var(--ink);margin-right:0}
.labels span{display:flex;align-items:center}
.bars{display:flex;flex-wrap:wrap;list-style:none;margin:0;padding:0;flex:1 1 auto;row-gap:1rem}
.bar{position:relative;flex:1 1 auto;padding:1.5rem .6rem .25rem .7rem;border-right:1px solid var(--line);min-width:4.5rem;max-width:34rem}
.bar:last-child{border-right-width:2px;border-right-color:var(--ink)}
.pickup{flex:0 1 auto;min-width:0;border-right-style:dotted}
.double{border-right:4px double var(--ink)}
.opens{border-left:4px double var(--ink)}
.opens::before,.closes::after{content:":";position:absolute;top:45%;font-weight:700;font-size:1.4rem;line-height:1}
.opens::before{left:.15rem}
.closes::after{right:.15rem}
.closes{border-right:5px double var(--ink);padding-right:1rem}
.opens{padding-left:1rem}
.ending::before{content:"";position:absolute;left:0;right:.4rem;top:0;height:.6rem;border:solid var(--ink);border-width:1.5px 0 0 1.5px}
.no{position:absolute;left:.25rem;top:.1rem;border:0;background:none;color:var(--faint);font:italic .8rem/1.4 Georgia,serif;padding:.1rem .35rem;min-width:1.6rem;min-height:1.5rem;cursor:pointer;border-radius:.2rem}
.no:hover{color:var(--ink);text-decoration:underline}
.signs{position:absolute;left:2.1rem;right:.4rem;top:.2rem;font-size:.78rem;white-space:nowrap;overflow:hidden;text-overflow:ellipsis;text-align:right;color:var(--faint)}
.grid{grid-auto-columns:minmax(min-content,auto)}
.grid>span{min-width:0;padding-right:.55rem;white-space:nowrap}
.chords{font-size:1.45rem;line-height:1.2}
.chords b{font-weight:700}
.chords b+span{font-size:.82em}
.numbers{color:var(--faint);font-size:.85rem}
.cue{font-style:italic;font-size:.85rem}
.lead,.right,.left,.bass{font-size:.9rem}
.words{font-family:Georgia,serif;font-size:1rem}
.left{border-bottom:0}
.labels .right,.labels .left,.labels .lead,.labels .bass{align-items:center}
.tones{display:flex;flex-direction:column;justify-content:center}
.tone{display:flex;gap:.3rem;align-items:baseline;line-height:1.25}
.tone b{min-width:1.15em;text-align:right;font-variant-numeric:tabular-nums;font-weight:650}
.tone i{font-style:normal;color:var(--faint);font-size:.92em}
.held{gap:.12rem}.held b{min-width:0}.held i{margin-left:.18rem}.held b,.held i{font-weight:400}
.held::before{content:"("}.held::after{content:")"}
.rolled{border-left:2px dotted var(--ink);padding-left:.25rem;margin-left:-.4rem}
.early::before{content:"\\2190";font-size:.75em;line-height:1;color:var(--faint)}
.on{position:relative;min-width:1.2rem}
.on::before{content:"";position:absolute;left:.1rem;right:.6rem;top:50%;border-top:1px solid var(--line)}
.chords.on::before{display:none}
.now{background:var(--light);box-shadow:inset 0 4px var(--edge),inset 0 -2px var(--edge)}
.marked .no{outline:2px solid var(--edge);outline-offset:-2px;color:var(--ink);font-weight:700}
button,select,input{font:inherit;color:inherit}
.desk{padding-top:1rem}
.desk form,.shelf{display:flex;flex-wrap:wrap;gap:.5rem 1.1rem;align-items:center}
.desk label,.desk fieldset{display:flex;gap:.4rem;align-items:center}
.desk fieldset{border:0;margin:0;padding:0;flex-wrap:wrap}
.desk legend{float:left;padding:0;margin-right:.4rem}
.act,select{background:var(--paper);border:1px solid var(--line);border-bottom-width:2px;border-radius:.3rem;padding:.35rem .7rem;min-height:2.3rem;cursor:pointer}
.act:hover{border-color:var(--edge)}
.act[aria-pressed=true]{background:var(--ink);color:var(--paper);border-color:var(--ink)}
.act[aria-pressed=true]::before{content:"\\2713\\a0"}
.shelf{position:sticky;bottom:0;background:var(--shelf);border-top:3px solid var(--ink);padding:.6rem 1.25rem .5rem;justify-content:center;z-index:2}
.shelf .act.play{min-width:6.5rem;font-weight:700}
.shelf figure{flex:1 1 100%;margin:0;display:flex;flex-direction:column;align-items:center;order:-1}
.shelf svg{width:100%;height:auto;max-height:min(11.5rem,30vh);max-width:68rem}
.shelf figcaption{font-family:"Iowan Old Style",Palatino,Georgia,serif;font-size:1.15rem;min-height:1.6em}
.shelf figcaption b{font-size:1.2em}
.where{min-width:11rem}
.pace{display:flex;gap:.4rem;align-items:center}
.pace output{min-width:9.5rem;text-align:center}
:focus-visible{outline:3px solid var(--edge);outline-offset:2px}
footer{max-width:72rem;margin:0 auto;padding:1rem 1.25rem;color:var(--faint);font-size:.8rem}
@media (max-width:40rem){.labels{flex-basis:2.6rem;font-size:.7rem}.bar{padding-left:.4rem;padding-right:.2rem}.chords{font-size:1.2rem}h1{font-size:1.6rem}.shelf{gap:.4rem;padding:.4rem}.shelf svg{max-height:22vh}.where{min-width:0}}
@media (prefers-reduced-motion:no-preference){html{scroll-behavior:smooth}}
@media (forced-colors:active){.now{outline:4px solid Highlight;outline-offset:-4px}.act[aria-pressed=true]{forced-color-adjust:none;background:Highlight;color:HighlightText}.shelf svg{forced-color-adjust:none}}
@media print{html{font-size:82%}.bar{min-width:0;padding-left:.45rem;padding-right:.1rem}.grid>span{padding-right:.3rem}.chords{font-size:1.3rem}.on{min-width:.6rem}:root{--paper:#fff;--ink:#000;--faint:#333;--line:#555;--light:#fff;--edge:#000}@page{margin:14mm}.desk,.shelf,.skip,.no,footer .screen{display:none}main{padding:0;max-width:none}h2{break-after:avoid}.facts{break-after:avoid}.system{content-visibility:visible;margin:.3rem 0 .7rem}.now{background:none;box-shadow:none}.labels{padding-top:.9rem}.bar{padding-top:.9rem}}
`;

/** The style sheet of a page whose bars have so many columns at most, and whose rows so many rows and lines. */
export function pageStyle(columns: number, rows: number, lines: number): string {
  const places = [
    ...upTo(columns, (n) => `.c${n}{grid-column-start:${n}}.s${n}{grid-column-end:span ${n}}`),
    ...upTo(rows, (n) => `.r${n}{grid-row:${n}}`),
    ...upTo(lines, (n) => `.h${n}{min-height:${n === 1 ? 1.5 : n * 1.25 + 0.35}em}`),
  ];
  return base.trim() + places.join("");
}

const upTo = (n: number, make: (i: number) => string): readonly string[] =>
  Array.from({ length: n }, (_, i) => make(i + 1));

/** What the page beside the text adds: its paper is the editor's or its own, and it goes on the stand. */
export const livePageStyle = `
html[data-paper=light]{color-scheme:light;--paper:#fbfaf6;--ink:#1c1b19;--faint:#5d5a53;--line:#8d897f;--light:#f3e6b8;--edge:#1c1b19;--shelf:#efece4}
html[data-paper=dark]{color-scheme:dark;--paper:#1f1e1c;--ink:#ece9e1;--faint:#b3aea3;--line:#77736a;--light:#4a3f1c;--edge:#ece9e1;--shelf:#292724}
html[data-paper=high-contrast]{color-scheme:dark;--paper:#000;--ink:#fff;--faint:#fff;--line:#fff;--light:#000;--edge:#fff;--shelf:#000}
html[data-paper=print]{color-scheme:light;--paper:#fff;--ink:#000;--faint:#000;--line:#000;--light:#fff;--edge:#000;--shelf:#fff}
html[data-paper=high-contrast] .now,html[data-paper=print] .now{outline:4px solid var(--edge);outline-offset:-4px}
html:has(>.vscode-reduce-motion){scroll-behavior:auto}
body{padding:0}
#waiting{font:inherit;margin:1.5rem 0}
.desk,.shelf,.skip{zoom:calc(1 / var(--size,1))}
.desk{font-size:.9rem}
.shelf{font-size:.9rem;padding:.35rem .6rem;gap:.35rem .7rem}
.shelf svg{max-height:min(11rem,25vh)}
.shelf figcaption{font-size:1rem;min-height:1.4em}
.act,select{min-height:1.9rem;padding:.2rem .55rem}
.pace output{min-width:4rem}
.where{min-width:0}
.bar{max-width:min(20rem,100%)}
h1{margin-top:.8rem}
summary{cursor:pointer;padding:.4rem 0;color:var(--faint)}
.here{box-shadow:inset 4px 0 var(--edge)}
.here.now{box-shadow:inset 4px 0 var(--edge),inset 0 4px var(--edge),inset 0 -2px var(--edge)}
html[data-chords=letters] .numbers{display:none}
html[data-chords=numbers] .chords{display:none}
html[data-chords=numbers] .numbers{font-size:1.45rem;line-height:1.2;font-weight:700;color:var(--ink)}
.pictured svg{display:block;height:2.4rem;width:auto}
html[data-hands=none] .right,html[data-hands=none] .left{display:none}
.grid>.at{outline:2px solid var(--edge);outline-offset:1px}
.leave{float:right;margin:.5rem;font-size:.9rem;zoom:calc(1 / var(--size,1))}
html:not([data-stand=true]) .leave,html[data-stand=true] .desk,html[data-stand=true] .skip,html[data-stand=true] .shelf>:not(.vh){display:none}
html[data-stand=true] .shelf{position:static;border:0;padding:0}
html[data-stand=true] main{max-width:none;padding-bottom:60vh}
html[data-stand=true] .no{visibility:hidden}
html[data-stand=true]:not([data-playing=true]) .bar{background:none;box-shadow:none;outline:none}
.sheet section{position:relative}
.staff{position:relative;z-index:1;pointer-events:none;margin:.4rem 0 .6rem}
.staff svg{display:block;width:100%;height:auto;overflow:visible;fill:currentColor}
.staff :is(path,ellipse,polygon,polyline,rect){stroke:currentColor}
.staff text{font-family:Times,"Times New Roman","Liberation Serif",serif;stroke:none}
.staff .chord,.staff .ending{font-weight:700}
.staff .number{fill:var(--faint)}
.staff .said{font-style:italic}
.engraved{display:block;position:relative;height:0;margin:0;content-visibility:visible}
.engraved :is(.labels,.grid,.signs){display:none}
.engraved .bars{display:block;height:0}
.engraved .bar{position:absolute;flex:none;min-width:0;max-width:none;padding:0;border:0}
.engraved .bar::before,.engraved .bar::after{content:none}
.engraved .no{top:-.1rem;left:-.1rem}
`;
