import { constants } from 'node:fs'
import { access, stat, writeFile } from 'node:fs/promises'
import { dirname } from 'node:path'
import { refuse } from './refusal.ts'

const REASONS: Readonly<Record<string, string>> = {
  EACCES: 'this user may not write there',
  EPERM: 'this user may not write there',
  EROFS: 'this disk can only be read',
  ENOTDIR: 'a part of that path is a file, not a folder',
  EISDIR: 'that is a folder, not a file',
  ENOSPC: 'the disk is full',
}

const refuseWriting = (option: string, path: string, error: NodeJS.ErrnoException): never =>
  refuse(
    `${option} ${path}`,
    `can’t be written: ${REASONS[error.code ?? ''] ?? (error.code === 'ENOENT' ? `there is no folder ${dirname(path)}` : (error.code ?? error.message))}`,
    'give a path in a folder that is there and may be written to',
  )

const fault = (code: string): NodeJS.ErrnoException => Object.assign(new Error(code), { code })

const check = async (path: string): Promise<void> => {
  const standing = await stat(path).catch((error: NodeJS.ErrnoException) => {
    if (error.code !== 'ENOENT') throw error
    return undefined
  })
  if (standing?.isDirectory() === true) throw fault('EISDIR')
  const folder = dirname(path)
  if (standing === undefined && !(await stat(folder)).isDirectory()) throw fault('ENOTDIR')
  await access(standing === undefined ? folder : path, constants.W_OK)
}

/**
 * Before anything slow is begun: whether the files asked for can be written at all.
 * @throws Refusal that names the option whose file can't
 */
export const checkWritable = async (
  files: readonly (readonly [option: string, path: string | undefined])[],
): Promise<void> => {
  for (const [option, path] of files)
    if (path !== undefined)
      await check(path).catch((error: NodeJS.ErrnoException) => refuseWriting(option, path, error))
}

/** @throws Refusal where it can't be written */
export const save = (option: string, path: string, content: string | Uint8Array): Promise<void> =>
  writeFile(path, content).catch((error: NodeJS.ErrnoException) => refuseWriting(option, path, error))
