import { html, text } from './html.js';

/** The head of a page that works by itself: its security policy, its title and its style sheet; light and dark as the reader's. */
export const pageHead = (title: string, policy: string, style: string): string =>
  html(
    'head',
    {},
    html('meta', { charset: 'utf-8' }),
    html('meta', { 'http-equiv': 'Content-Security-Policy', content: policy }),
    html('meta', { name: 'viewport', content: 'width=device-width, initial-scale=1' }),
    html('meta', { name: 'color-scheme', content: 'light dark' }),
    html('title', {}, text(title)),
    `<style>\n${style}</style>`,
  );
