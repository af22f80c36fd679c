import { useEffect, useRef } from 'react'
import { Link, useLocation } from 'wouter'
import { choose, type Theme, useChoice } from '../state/choice.ts'
import { Swap } from './swap.tsx'

const PLACES = [
  ['/', 'Pours'],
  ['/metal', 'Metal'],
  ['/shop', 'Shop'],
] as const

const Switches = () => {
  const { units, theme } = useChoice()
  return (
    <>
      <Swap
        label="Lengths in"
        choices={[
          ['in', 'in'],
          ['mm', 'mm'],
        ]}
        current={units.length}
        onChoose={(length) => choose({ units: { length } })}
      />
      <Swap
        label="Temperatures in"
        choices={[
          ['F', '°F'],
          ['C', '°C'],
        ]}
        current={units.temperature}
        onChoose={(temperature) => choose({ units: { temperature } })}
      />
      <Swap
        label="Metal in"
        choices={[
          ['g', 'g'],
          ['dwt', 'dwt'],
          ['oz t', 'oz t'],
        ]}
        current={units.mass}
        onChoose={(mass) => choose({ units: { mass } })}
      />
      <Swap<Theme>
        label="Light"
        choices={[
          ['light', 'Light'],
          ['dark', 'Dark'],
          ['bench', 'Bench'],
        ]}
        current={theme}
        onChoose={(next) => choose({ theme: next === theme ? 'system' : next })}
      />
    </>
  )
}

export const Head = () => {
  const [at] = useLocation()
  const { units } = useChoice()
  const strip = useRef<HTMLDetailsElement>(null)
  // biome-ignore lint/correctness/useExhaustiveDependencies: the strip closes whenever the place changes
  useEffect(() => {
    if (strip.current !== null) strip.current.open = false
  }, [at])
  const place = at.startsWith('/metal') ? '/metal' : at.startsWith('/shop') ? '/shop' : '/'
  return (
    <header className="head beside-slip">
      <a className="vh skip" href="#main">
        Past the head
      </a>
      <Link className="mark" href="/">
        Pourwright
      </Link>
      <nav aria-label="Places">
        {PLACES.map(([href, name]) => (
          <Link key={href} href={href} {...(href === place && { 'aria-current': 'page' as const })}>
            {name}
          </Link>
        ))}
      </nav>
      <span className="sp" />
      <div className="set">
        <Switches />
      </div>
      <details className="us" ref={strip}>
        <summary aria-label="Units and light">
          <b>{units.length}</b> <b>°{units.temperature}</b> <b>{units.mass}</b>
        </summary>
        <div className="usp">
          <Switches />
        </div>
      </details>
    </header>
  )
}
