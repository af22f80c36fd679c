/** A switch with every choice visible and the current one bold. */
export const Swap = <T extends string>({
  label,
  choices,
  current,
  onChoose,
}: {
  label: string
  choices: readonly (readonly [T, string])[]
  current: T
  onChoose: (choice: T) => void
}) => (
  // biome-ignore lint/a11y/useSemanticElements: a fieldset cannot be laid out in the head's one row
  <span className="swap" role="group" aria-label={label}>
    {choices.map(([value, name]) => (
      <button key={value} type="button" aria-pressed={value === current} onClick={() => onChoose(value)}>
        {name}
      </button>
    ))}
  </span>
)
