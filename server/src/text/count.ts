/** `1 bar`, `2 bars` */
export const count = (n: number, noun: string): string => `${n} ${noun}${n === 1 ? "" : "s"}`;
