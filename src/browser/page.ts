/**
 * The script of a page. Everything on a page can be read without it; it adds the 3D view, the clock, and that picking
 * something in one place shows it in the others.
 */
import { unpacked, type Packed } from '../report/page/packed-json.js';
import type { PageData } from '../report/page/page-data.js';
import { centreGraphs } from './centre-graph.js';
import { Clock } from './clock.js';
import { Picks } from './picks.js';
import { showStages } from './stage-view/stage-view.js';
import { tieTimeline } from './timeline.js';

centreGraphs(document);
const stated = document.getElementById('page-data')?.textContent;
const place = document.getElementById('stage-view');
const timeline = document.getElementById('timeline');
if (stated && place) {
  const data = unpacked(JSON.parse(stated) as Packed) as PageData;
  const clock = new Clock(data.makespan);
  const picks = new Picks(document);
  // A pick that belongs to a moment shows that moment.
  picks.listen((_, at) => {
    if (at !== undefined) clock.set(at);
  });
  showStages({ data, clock, picks, place });
  if (timeline) tieTimeline({ clock, picks, place: timeline });
}
