/* SPDX-License-Identifier: MIT */
/* frame.h - what stands round every screen: the head line, the line of messages and the keys that
 * matter here; and which key means what. */
#ifndef SCREENS_FRAME_H
#define SCREENS_FRAME_H

#include "stack.h"

/* Draws the whole terminal anew. */
void frame_draw(struct stack *stack);
/* Is the terminal too small for the screen on top? */
bool frame_too_small(const struct page *page);
/* Puts rows and columns of the body into the page's context. */
void frame_measure(struct page *page);

/* Is a line open on this page; *empty: with nothing in it. */
bool frame_types(const struct page *page, bool *empty);
/* The action of a key here; *own: by a row of the screen itself. */
enum action frame_action(const struct page *page, uint32_t key, bool *own);

#endif
