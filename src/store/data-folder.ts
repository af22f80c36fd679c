import { homedir } from 'node:os'
import { join } from 'node:path'

/** Where a person's own data lives on this system, unless `--data` names another place. */
export const usualDataFolder = (
  platform: NodeJS.Platform = process.platform,
  variables: NodeJS.ProcessEnv = process.env,
  home: string = homedir(),
): string => {
  switch (platform) {
    case 'win32':
      return join(variables.APPDATA ?? join(home, 'AppData', 'Roaming'), 'Pourwright')
    case 'darwin':
      return join(home, 'Library', 'Application Support', 'Pourwright')
    default:
      return join(variables.XDG_DATA_HOME || join(home, '.local', 'share'), 'pourwright')
  }
}
