/** How long whatever still reads an address that is let go may take to begin, in milliseconds. */
const STILL_READ = 10_000

/** An address that the page can show or save these bytes from, until it is let go. */
export const addressOf = (content: string | Uint8Array, type: string): string => {
  const part = typeof content === 'string' ? content : Uint8Array.from(content)
  return URL.createObjectURL(new Blob([part], { type }))
}

/** Lets an address go, but not under a picture or a file that was only just asked for by it. */
export const letGoOf = (address: string): void => {
  setTimeout(() => URL.revokeObjectURL(address), STILL_READ)
}
