/** The part of the statistics library that tests take as their oracle; it ships no types of its own. */
declare module 'jstat' {
  const jstat: { readonly beta: { readonly inv: (share: number, alpha: number, beta: number) => number } }
  export default jstat
}
