import { useState } from 'react'
import type { Heights, RegionHeight } from '../../../../engine/documents/heights.ts'
import { Swap } from '../../../parts/swap.tsx'
import { entryWriting, plainNumber } from '../../../state/entry.ts'
import { useUnits } from '../../../state/units.ts'
import { EdgeChoice, EdgeSize } from './edge-entry.tsx'
import { heightOf, inRole, type RegionGroup, withName, withSetting } from './groups.ts'
import { LengthEntry } from './length-entry.tsx'
import { SeatEntry } from './seat-entry.tsx'
import { type ChangeHeights, useLengths } from './use-heights.ts'

const ROLES = [
  ['raised', 'raised'],
  ['ground', 'ground, cut back'],
  ['through', 'cut through'],
  ['seat', 'seat for a stone'],
] as const

const LEAST_MM = 0.1
const MOST_MM = 200

interface RowProps {
  readonly group: RegionGroup
  readonly heights: Heights
  readonly change: ChangeHeights
  readonly isChosen: boolean
  /** one region of several that was pressed on the drawing */
  readonly one: string | undefined
  readonly choose: (region: string | undefined) => void
}

/** Steps of a dragged height: a tenth of a millimetre, two hundredths of an inch. */
const HeightSlider = ({
  title,
  value,
  tallest,
  onChange,
}: {
  title: string
  value: number
  tallest: number
  onChange: (value: number, group: string) => void
}) => {
  const units = useUnits()
  const writing = entryWriting('/x_mm', units)
  const step = units.length === 'in' ? 0.254 : 0.1
  return (
    <input
      type="range"
      className="height-slider"
      aria-label={`${title}, height, dragged`}
      aria-valuetext={`${plainNumber(writing.toShown(value), writing.decimals)} ${writing.label}`}
      min={0.3}
      max={Math.max(tallest, value)}
      step={step}
      value={value}
      onChange={(event) => onChange(Number(Number(event.target.value).toFixed(3)), `slide ${title}`)}
    />
  )
}

const GroupRow = ({ group, heights, change, isChosen, one, choose }: RowProps) => {
  const [alone, setAlone] = useState(false)
  const { write } = useLengths()
  const ids = group.regions.map(({ id }) => id)
  const only = alone && one !== undefined && ids.length > 1 ? one : undefined
  const setting = only === undefined ? group.setting : heightOf(heights, only)
  const set = (next: RegionHeight, by?: string): void =>
    change(withSetting(heights, only === undefined ? ids : [only], next), by)
  const title = `${group.number} ${group.name}`
  const [first] = ids
  return (
    <tr className={isChosen ? 'chosen-row' : ''}>
      <th scope="row">
        <button
          type="button"
          className="region-name"
          aria-expanded={isChosen}
          onClick={() => choose(isChosen ? undefined : first)}
        >
          <span className="ringed">{group.number}</span>
          {group.name}
          {ids.length > 1 && `, ${ids.length}`}
        </button>
        {setting.role === 'seat' && setting.stone !== undefined && (
          <small>
            for {plainNumber(setting.stone.length_mm, 2)} × {plainNumber(setting.stone.width_mm, 2)} mm
            cabochon
          </small>
        )}
        {isChosen && (
          <div className="region-detail">
            {ids.length > 1 && one !== undefined && (
              <Swap
                label={`What is changed, ${title}`}
                choices={[
                  ['all', `all ${ids.length}`],
                  ['one', `only the one pressed, ${one}`],
                ]}
                current={only === undefined ? 'all' : 'one'}
                onChoose={(which) => setAlone(which === 'one')}
              />
            )}
            <label className="seat-line">
              <span>Name</span>
              <input
                className="fld"
                aria-label={`${title}, name`}
                maxLength={40}
                placeholder={group.name}
                defaultValue={heights.names?.[only ?? first ?? ''] ?? ''}
                onBlur={(event) => {
                  const called = event.target.value.trim()
                  const next = withName(heights, only === undefined ? ids : [only], called)
                  if (next !== heights) change(next)
                }}
                onKeyDown={(event) => {
                  if (event.key === 'Enter') event.currentTarget.blur()
                }}
              />
            </label>
            <label className="seat-line">
              <span>Role</span>
              <select
                className="asked"
                aria-label={`${title}, role`}
                value={setting.role}
                onChange={(event) =>
                  set(inRole(setting, event.target.value as RegionHeight['role'], heights.blank_mm))
                }
              >
                {ROLES.map(([role, name]) => (
                  <option key={role} value={role}>
                    {name}
                  </option>
                ))}
              </select>
            </label>
            {setting.role !== 'through' && (
              <HeightSlider
                title={title}
                value={setting.height_mm}
                tallest={Math.max(heights.blank_mm, 4)}
                onChange={(height_mm, by) => set({ ...setting, height_mm }, by)}
              />
            )}
            {(setting.role === 'raised' || setting.role === 'ground') && (
              <EdgeSize
                title={`${title}, edge`}
                edge={setting.edge}
                onChange={(edge, by) => set({ ...setting, edge }, by)}
              />
            )}
            {setting.role === 'seat' && (
              <SeatEntry title={title} seat={setting} region={group.regions[0]} onChange={set} />
            )}
          </div>
        )}
      </th>
      <td className="n">
        {setting.role === 'through' ? (
          <span className="muted">through</span>
        ) : (
          <LengthEntry
            title={`${title}, height`}
            value={setting.height_mm}
            least={LEAST_MM}
            most={MOST_MM}
            hideLabel
            onChange={(height_mm, by) => set({ ...setting, height_mm }, by)}
          />
        )}
      </td>
      <td>
        {setting.role === 'raised' || setting.role === 'ground' ? (
          <EdgeChoice
            title={`${title}, edge`}
            edge={setting.edge}
            height_mm={setting.height_mm}
            onChange={(edge) => set({ ...setting, edge })}
          />
        ) : setting.role === 'seat' && setting.stone !== undefined ? (
          <span>bearer {write(setting.stone.bearer_mm)}</span>
        ) : (
          <span className="muted">none</span>
        )}
      </td>
    </tr>
  )
}

/** What each region is, how high it stands, and how its edge is worked. */
export const RegionsTable = ({
  groups,
  heights,
  change,
  chosen,
  choose,
}: {
  groups: readonly RegionGroup[]
  heights: Heights
  change: ChangeHeights
  chosen: string | undefined
  choose: (region: string | undefined) => void
}) => {
  const { label } = useLengths()
  return (
    <table className="regions">
      <caption>Regions</caption>
      <thead>
        <tr>
          <th scope="col">Role</th>
          <th scope="col" className="n">
            Height, {label}
          </th>
          <th scope="col">Edge</th>
        </tr>
      </thead>
      <tbody>
        {groups.map((group) => {
          const isChosen = chosen !== undefined && group.regions.some(({ id }) => id === chosen)
          return (
            <GroupRow
              key={group.key}
              group={group}
              heights={heights}
              change={change}
              isChosen={isChosen}
              one={isChosen ? chosen : undefined}
              choose={choose}
            />
          )
        })}
      </tbody>
    </table>
  )
}
