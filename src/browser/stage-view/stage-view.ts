import type { PageData } from '../../report/page/page-data.js';
import type { Clock } from '../clock.js';
import type { Picks } from '../picks.js';
import { Rig } from './camera/rig.js';
import { followPointer } from './camera/pointer.js';
import { fitted, STANDARD_VIEWS } from './camera/view.js';
import { make } from './controls/element.js';
import { keyList, listenToKeys } from './controls/keys.js';
import { lookControls } from './controls/look-controls.js';
import { announcer, momentText } from './controls/moment-text.js';
import { pickedPanel } from './controls/picked-panel.js';
import { clockSlider, transport } from './controls/transport.js';
import { viewButtons } from './controls/view-buttons.js';
import { drawingOn } from './drawing.js';
import { Flight } from './flight.js';
import { FIRST_LOOK, Look } from './look.js';
import { cornersOf } from './moment/section-plane.js';
import { Moments } from './moment/shown-moment.js';
import { momentOfPick } from './moment/pick-moment.js';
import { stageMoment } from './moment/stages.js';
import { Picture } from './picture.js';
import { playerOf, timeCommands, viewCommands } from './view-commands.js';

export interface StageViewParts {
  readonly data: PageData;
  readonly clock: Clock;
  readonly picks: Picks;
  /** Holds what stands for the view where it cannot be shown. */
  readonly place: HTMLElement;
}

const TEXT_ID = 'stage-view-moment';

/** Builds the 3D view of the stages. */
export function showStages({ data, clock, picks, place }: StageViewParts): void {
  if (data.stages.length === 0) return;
  const instead = [...place.children] as HTMLElement[];
  const moments = new Moments(data);
  const look = new Look(FIRST_LOOK);
  const canvas = make('canvas', {
    tabindex: 0,
    role: 'application',
    'aria-label': `3D view of the stages of ${data.weldment}`,
    'aria-describedby': TEXT_ID,
  });
  const box = make('div', { class: 'picture' }, canvas);
  const drawing = drawingOn(canvas);
  const withPicture = (shown: boolean): void => {
    box.hidden = !shown;
    for (const element of instead) element.hidden = shown;
  };
  withPicture(drawing !== undefined);
  canvas.addEventListener('webglcontextlost', () => withPicture(false));
  canvas.addEventListener('webglcontextrestored', () => withPicture(true));

  const start = { azimuth: STANDARD_VIEWS.iso[0], elevation: STANDARD_VIEWS.iso[1] };
  const corners = cornersOf(moments.room);
  const rig = new Rig(fitted({ ...start, target: [0, 0, 0], height: 1 }, corners, 1, 2.2));
  const picture = drawing && new Picture({ data, moments, clock, picks, look, rig, drawing, box });
  const player = playerOf(data, clock, picture?.frames);
  const flight = picture && new Flight(rig, picture.frames);
  const commands = {
    ...timeCommands(data, clock, player),
    ...viewCommands({ data, moments, clock, look }, rig, flight),
    pickNothing: () => picks.set(undefined),
  };
  if (picture) {
    box.append(picture.labels.element);
    listenToKeys(canvas, commands);
    followPointer({
      canvas,
      rig,
      moved: () => {
        flight?.end();
        picture.frames.request();
      },
      clicked: (point) => picks.set(picture.pickAt(point)),
    });
  }
  const time = { data, moments, clock, player, commands };
  place.append(
    make(
      'div',
      { class: 'viewer' },
      box,
      make(
        'div',
        { class: 'under' },
        clockSlider(time),
        transport(time),
        ...(picture ? [viewButtons(commands)] : []),
      ),
      make(
        'div',
        { class: 'beside' },
        momentText(data, clock, TEXT_ID),
        ...(picture ? [lookControls(look, moments.room, data.distortion.length > 0)] : []),
        pickedPanel(data, picks),
        ...(picture ? [keyList()] : []),
        announcer(data, moments, clock, player),
      ),
    ),
  );
  let exploded = 0;
  look.listen(({ exploded: now }) => {
    if (now !== exploded) commands.fit('weldment');
    exploded = now;
  });
  picks.listen((pick, at) => {
    const moment = pick && at === undefined ? momentOfPick(data, pick) : undefined;
    if (moment !== undefined) clock.set(moment);
  });
  clock.set(stageMoment(data.stages[0]!));
}
