import type { ReactNode } from 'react'

/** One answer: its name, the figure, and a line beneath. */
export const Stat = ({
  name,
  children,
  below,
  size = 'mid',
}: {
  name: string
  children: ReactNode
  below?: ReactNode
  size?: 'mid' | 'big' | 'text'
}) => (
  <dl className="stat">
    <dt>{name}</dt>
    <dd className={size}>{children}</dd>
    {below !== undefined && <dd className="s">{below}</dd>}
  </dl>
)

/** Figures of a room in rows: name, figure, range. Rows without a figure are left out. */
export const FigureRows = ({ label, children }: { label: string; children: ReactNode }) => (
  <table className="rows">
    <caption>{label}</caption>
    <thead className="vh">
      <tr>
        <th scope="col">What</th>
        <th scope="col">Figure</th>
      </tr>
    </thead>
    <tbody>{children}</tbody>
  </table>
)

export const FigureRow = ({
  name,
  children,
  about,
  strong,
}: {
  name: ReactNode
  children: ReactNode
  about?: ReactNode
  strong?: boolean
}) => (
  <tr className={strong === true ? 'strong-row' : ''}>
    <th scope="row">
      {name}
      {about !== undefined && about !== false && <small>{about}</small>}
    </th>
    <td className="n">{children}</td>
  </tr>
)
