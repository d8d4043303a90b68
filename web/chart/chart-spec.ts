// From a chart's data to what is drawn. The specification of a chart stays the same while its
// numbers change, so that it is compiled once.

import type { ChartData } from '../../engine/index.ts';
import { barPanels, dotPanel, scatterPanels } from './chart-bars.ts';
import { gutterOf } from './chart-gutter.ts';
import type { Panel, Setting } from './chart-panel.ts';
import { isLong, stackAlongTime } from './chart-stack.ts';
import { influencePanel, mapPanel, spreadPanel } from './chart-study.ts';
import { bandPanel, linePanels } from './chart-time.ts';

/** What is drawn for a chart; lists and skies are drawn elsewhere. */
export function drawingOf(data: ChartData, asked: Omit<Setting, 'gutter'>): readonly Panel[] {
  const setting: Setting = { ...asked, gutter: gutterOf(data) };
  switch (data.kind) {
    case 'line':
      return data.axis.kind === 'labels' || data.axis.kind === 'days'
        ? dotPanel(data, setting)
        : linePanels(data, setting);
    case 'bars':
      return isLong(data) ? linePanels(data, setting) : barPanels(data, setting, false);
    case 'stack':
      return isLong(data) ? stackAlongTime(data, setting) : barPanels(data, setting, true);
    case 'dots':
      return scatterPanels(data, setting);
    case 'map':
      return mapPanel(data, setting);
    case 'bands':
      return bandPanel(data, setting);
    case 'spread':
      return spreadPanel(data, setting);
    case 'influence':
      return influencePanel(data, setting);
    default:
      return [];
  }
}
