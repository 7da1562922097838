/** A chart's text, taken into the bundle. */
declare module "*.plagal" {
  const text: string;
  export default text;
}
