/** How often, after a verb or a name: nothing for once, ` twice`, ` 3 times`. */
export const timesWords = (times: number): string =>
  times === 1 ? "" : times === 2 ? " twice" : ` ${times} times`;
