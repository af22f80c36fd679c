import type { ReactNode } from 'react'
import { SIGN_WORD, Sign, type SignLevel } from './sign.tsx'

/** One line that asks for attention: sign, word, what is so, and one thing to do. */
export const Mind = ({
  level,
  children,
  action,
  live,
}: {
  level: SignLevel
  children: ReactNode
  action?: ReactNode
  live?: boolean
}) => (
  <div className={`mind ${level}`} {...(live === true && { role: 'status' })}>
    <Sign level={level} />
    <div>
      {level === 'pass' ? <span className="vh">Passed. </span> : <b className="w">{SIGN_WORD[level]}.</b>}{' '}
      {children}
      {action !== undefined && (
        <>
          <br />
          {action}
        </>
      )}
    </div>
  </div>
)
