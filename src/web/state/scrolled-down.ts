import { useEffect, useState } from 'react'

/** Below this far from the top [px] nothing gives way yet. */
const NEAR_TOP = 120
/** A finger's tremble is no scroll [px]. */
const STILL = 8

/** True while a reader goes down a page; false again at its top and as soon as they go up. */
export const useScrolledDown = (): boolean => {
  const [down, setDown] = useState(false)
  useEffect(() => {
    let before = scrollY
    const look = (): void => {
      const by = scrollY - before
      if (Math.abs(by) < STILL) return
      before = scrollY
      setDown(by > 0 && scrollY > NEAR_TOP)
    }
    addEventListener('scroll', look, { passive: true })
    return () => removeEventListener('scroll', look)
  }, [])
  return down
}
