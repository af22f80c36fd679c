/** The part of the drawing library that tests take as their oracle; it ships no types of its own. */
declare module 'dxf' {
  interface Parsed {
    readonly header: { readonly insUnits?: number }
  }
  const dxf: {
    readonly parseString: (text: string) => Parsed
    readonly toPolylines: (parsed: Parsed) => {
      readonly polylines: readonly { readonly vertices: readonly (readonly number[])[] }[]
    }
  }
  export default dxf
}
