import type { ReactNode } from 'react'
import { readStated, type Stated } from '../../engine/documents/stated.ts'
import { useDocuments } from '../state/documents.tsx'
import type { EntryForm } from '../state/entry.ts'
import { Asked, type AskedProps } from './asked.tsx'

const isNumber = (value: unknown): value is Stated =>
  typeof value === 'number' || (typeof value === 'object' && value !== null && 'value' in value)

/** One value of the shop: the figure, its range, and where it comes from. */
export const ValueRow = ({
  path,
  title,
  about,
  stated,
  ...asked
}: AskedProps & { about?: ReactNode; stated?: boolean }) => {
  const { read, change } = useDocuments()
  const standing = read(path)
  const form: EntryForm = {
    unit: asked.unit,
    scale: asked.scale,
    offset: asked.offset,
    plainMass: asked.plainMass,
    as: asked.as,
    unitPath: path,
  }
  const facts = isNumber(standing) ? readStated(standing) : undefined
  const ranged = typeof standing === 'object'
  return (
    <tr>
      <th scope="row">
        {title}
        {about !== undefined && <small>{about}</small>}
      </th>
      <td>
        <Asked path={path} title={title} {...asked} />
      </td>
      <td>
        {facts !== undefined && ranged && (
          <span className="sm">
            <Asked
              path={`${path}/low`}
              title={`${title}, low`}
              empty="no low"
              hideLabel
              {...form}
              kind="usual"
            />{' '}
            to{' '}
            <Asked
              path={`${path}/high`}
              title={`${title}, high`}
              empty="no high"
              hideLabel
              {...form}
              kind="usual"
            />
          </span>
        )}
        {facts !== undefined && !ranged && stated === true && (
          <button
            type="button"
            className="quiet"
            onClick={() => change(path, { value: facts.value, low: facts.value, high: facts.value })}
          >
            exact; give it a range<span className="vh">: {title}</span>
          </button>
        )}
      </td>
      <td className="sm muted">
        {facts === undefined ? null : facts.measured ? (
          <>measured {typeof standing === 'object' ? (standing as { measured?: string }).measured : ''}</>
        ) : facts.source !== undefined ? (
          <>
            usual: {facts.source}
            {stated === true && <MeasuredToday path={path} title={title} />}
          </>
        ) : stated === true ? (
          <>
            set by you
            <MeasuredToday path={path} title={title} />
          </>
        ) : null}
      </td>
    </tr>
  )
}

const MeasuredToday = ({ path, title }: { path: string; title: string }) => {
  const { read, change } = useDocuments()
  const mark = (): void => {
    const standing = read(path)
    if (!isNumber(standing)) return
    const { value, low, high } = readStated(standing)
    change(path, { value, low, high, measured: new Date().toISOString().slice(0, 10) })
  }
  return (
    <button type="button" className="quiet" onClick={mark}>
      measured here<span className="vh">: {title}</span>
    </button>
  )
}

export const ValueTable = ({ label, children }: { label: string; children: ReactNode }) => (
  <table className="values">
    <caption className="vh">{label}</caption>
    <thead className="vh">
      <tr>
        <th scope="col">What</th>
        <th scope="col">Value</th>
        <th scope="col">Nine in ten</th>
        <th scope="col">Comes from</th>
      </tr>
    </thead>
    <tbody>{children}</tbody>
  </table>
)
