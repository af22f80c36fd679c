export interface FoundBrowser {
  readonly executablePath: string
  readonly args: string[]
  readonly from: 'CHROME_PATH' | 'installed' | 'packaged'
}

/** A browser for the tests: CHROME_PATH, then an installed one, then the one among the dependencies. */
export declare const findBrowser: () => Promise<FoundBrowser | undefined>
