// SPDX-License-Identifier: MIT
// A slider that a passing finger does not set: what began as a swipe that scrolls the page leaves the value as it was. A finger sets
// it by going sideways, or by a tap; mouse, pen and keys set it at once.
import { h } from './dom';

const APART = 8;  // [CSS px] a finger this far from where it came down is no tap

type Attributes = Parameters<typeof h>[1];

/// What the finger on the slider is about: none there, not known yet, it sets the value, it scrolls.
type Finger = 'none' | 'unknown' | 'sets' | 'scrolls';

/// @param take is given each new value; never one that a scrolling finger came across
/// @param hold called when a finger comes down: gives what puts back all that its drag set, where the thumb's value is not the whole of it
export function thumb(attributes: Attributes, take: (value: number) => void, hold?: () => () => void): HTMLInputElement {
  const slider: HTMLInputElement = h('input', { ...attributes, type: 'range' });
  let finger: Finger = 'none';
  let before = slider.value;
  let came = { id: -1, x: 0, y: 0 };
  let undo = (): void => undefined;
  const putBack = (): void => { slider.value = before; };
  const settle = (as: Finger): void => {
    const fresh = finger === 'unknown' && as === 'sets' && slider.value !== before;
    finger = as;
    if (fresh) {
      take(Number(slider.value));
    }
  };
  const leave = (event: PointerEvent, as: Finger): void => {
    if (event.pointerId !== came.id) {
      return;
    }
    came.id = -1;
    if (finger === 'sets' && as === 'scrolls') {
      undo();  // slanting, and taken for a swipe by the browser
    }
    settle(as);
    if (finger === 'scrolls') {
      putBack();
      setTimeout(putBack);  // a browser may end its own drag of the thumb after this
    }
    setTimeout(() => { finger = came.id < 0 ? 'none' : finger; });
  };
  const far = (event: PointerEvent): [number, number] => [Math.abs(event.clientX - came.x), Math.abs(event.clientY - came.y)];
  slider.addEventListener('pointerdown', (event) => {
    if (event.pointerType === 'touch' && came.id < 0) {
      came = { id: event.pointerId, x: event.clientX, y: event.clientY };
      before = slider.value;
      finger = 'unknown';
      const value = Number(before);
      undo = hold?.() ?? ((): void => take(value));
    }
  });
  slider.addEventListener('pointermove', (event) => {
    const [x, y] = far(event);
    if (event.pointerId === came.id && finger === 'unknown' && Math.max(x, y) > APART) {
      settle(x > y ? 'sets' : 'scrolls');
    }
  });
  slider.addEventListener('pointerup', (event) => leave(event, finger === 'scrolls' ? 'scrolls' : 'sets'));
  slider.addEventListener('pointercancel', (event) => leave(event, 'scrolls'));
  slider.addEventListener('input', () => {
    if (finger === 'none' || finger === 'sets') {
      take(Number(slider.value));
    } else if (finger === 'scrolls') {
      putBack();
    }
  });
  return slider;
}
