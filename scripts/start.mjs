// `npm start`: sets up whatever is missing, then opens the app. All of it is the command `open`, which
// pourwright.mjs runs when it is started from here.
import './pourwright.mjs'
