/** What the tests use of jStat, which ships no types. */
declare module 'jstat' {
  interface Weibull {
    pdf(age: number, scale: number, shape: number): number;
    cdf(age: number, scale: number, shape: number): number;
    inv(share: number, scale: number, shape: number): number;
    mean(scale: number, shape: number): number;
  }
  const jStat: { weibull: Weibull };
  export default jStat;
}
