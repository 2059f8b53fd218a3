/* SPDX-License-Identifier: MIT */
/* document_style.h - how the HTML pages look: black on white, and where the sheets break. */
#ifndef REPORT_DOCUMENT_STYLE_H
#define REPORT_DOCUMENT_STYLE_H

extern const char document_style[];

#endif
