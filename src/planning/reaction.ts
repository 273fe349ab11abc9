import type { Waiting } from '../model/plan-handshake.js';

/** What the robot that waits does when the time is over. */
function own(waiting: Waiting, part: string | undefined): string {
  switch (waiting) {
    case 'holding':
      return `keep holding ${part}`;
    case 'carrying':
      return `stand still and keep ${part} gripped`;
    case 'empty':
      return 'stand still';
    case 'torch-away':
      return 'torch stays away, arc stays off';
    case 'torch-near':
      return 'torch stands still, arc stays off';
  }
}

/** What happens when a wait has lasted too long: whatever it is for, nothing that is held is let go. */
export function reactionOf(waiting: Waiting, part: string | undefined, robots: number): string {
  const others =
    waiting === 'holding' || waiting === 'carrying' ? '' : ' whoever holds a part keeps holding it;';
  return `${own(waiting, part)};${others} stop ${robots === 2 ? 'both' : 'all'} robots, call a person; never let go`;
}
