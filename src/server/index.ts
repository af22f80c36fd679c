/**
 * Everything the page asks over HTTP: a file per resource in resources/, guarded by guard.ts.
 * Needs a store and the services that compute (measure, make up, print, demo), each of which may be absent.
 * Gives a server on this computer. Does not know one rule of the trade. Read app.ts first; main.ts opens
 * the store and the port, wired-services.ts holds the real services.
 */
export { startServer } from './main.ts'
