import type { ChartCheck, SectionCheck } from "./check.js";

/** Every check that sees one section, in the order of the catalogue. */
export const sectionChecks: readonly SectionCheck[] = [];

/** Every check that looks across sections. */
export const chartChecks: readonly ChartCheck[] = [];
