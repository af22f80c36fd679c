/**
 * Everything the page asks over HTTP: a file per resource in resources/, guarded by guard.ts.
 * Needs a store and the services that compute (measure, make up, print, demo), each of which may be absent.
 * Gives an app that any web server of this kind can run, and one that is started on this computer only.
 * Does not know one rule of the trade. Read app.ts first; main.ts wires the real services.
 */
export { type AppOptions, createApp } from './app.ts'
export type * from './services.ts'
