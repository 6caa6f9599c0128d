import { initials } from '../state/writing.js';

/** On a shared tablet: whose hands these are. Kept until the next person changes it. */
export const Initials = () => (
  <label class="initials">
    <span>Initials</span>
    <input
      value={initials.value}
      maxLength={8}
      autocomplete="off"
      autocapitalize="characters"
      onInput={(event) => {
        initials.value = event.currentTarget.value;
      }}
    />
  </label>
);
