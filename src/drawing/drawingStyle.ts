/**
 * How every drawing is inked. Colours come from the page's variables and fall back to ink on paper, so that the same tree serves
 * the screen in each theme, the printer and a file. State fills are the Okabe–Ito colours: fills only, always outlined in ink.
 * @source Okabe, Ito (2008), Color Universal Design, palette of eight
 */
export const drawingStyle = `
.drawing{color:var(--ink,#1a2233);font-family:var(--lettering,"DIN Alternate",Bahnschrift,"Roboto Condensed",system-ui,sans-serif)}
.drawing .paper{fill:var(--paper,#f6f3ea)}
.drawing .outline,.drawing .thin,.drawing .hidden,.drawing .centre,.drawing .bold,.drawing .accent,.drawing .ghost{fill:none;stroke:currentColor;stroke-width:var(--line,1.6);stroke-linecap:round;stroke-linejoin:round}
.drawing .thin{stroke-width:var(--line-thin,.8)}
.drawing .bold{stroke-width:var(--line-bold,3)}
.drawing .hidden{stroke-width:var(--line-thin,.9);stroke-dasharray:5 3}
.drawing .centre{stroke-width:var(--line-thin,.7);stroke-dasharray:14 3 2 3}
.drawing .ghost{stroke-width:var(--line-thin,.8);opacity:var(--ghost,.55)}
.drawing .accent{stroke:var(--accent,#12479e);stroke-width:var(--line-accent,4.5)}
.drawing .accent-fill{fill:var(--accent,#12479e);stroke:none}
.drawing .arrow{fill:currentColor;stroke:none}
.drawing .solid{fill:currentColor;stroke:none}
.drawing .metal{fill:var(--shade,#e6e1d2);stroke:currentColor;stroke-width:var(--line-thin,1)}
.drawing .hand{fill:var(--shade,#e6e1d2);stroke:currentColor;stroke-width:var(--line,1.6);stroke-linejoin:round}
.drawing .letter{fill:currentColor;stroke:none;font-variant-numeric:tabular-nums}
.drawing .strong{font-weight:700}
.drawing .on-accent{fill:var(--on-accent,#fff);font-weight:700}
.drawing .band{fill:var(--band,#dfe6f2);stroke:var(--band-edge,none);stroke-width:1;stroke-dasharray:2 3}
.drawing .limit{fill:none;stroke:currentColor;stroke-width:var(--line,1.8)}
.drawing .mark{stroke:currentColor;stroke-width:1.4;stroke-linejoin:round}
.drawing .sign{fill:none;stroke:currentColor;stroke-width:1.6;stroke-linecap:round}
.drawing .m-low~.sign,.drawing .m-high~.sign{stroke:var(--sign,#fff)}
.drawing .open{fill:var(--paper,#f6f3ea)}
.drawing .m-fine{fill:var(--m-fine,#009E73)}
.drawing .m-high{fill:var(--m-high,#D55E00)}
.drawing .m-low{fill:var(--m-low,#0072B2)}
.drawing .m-unsure{fill:var(--m-unsure,#F0E442)}
.drawing .m-heard{fill:currentColor}
.drawing .whisker{fill:none;stroke:currentColor;stroke-width:1.6}
@media print{.drawing{color:#000}}
@media (forced-colors:active){.drawing{color:CanvasText}.drawing .accent{stroke:Highlight}.drawing .accent-fill{fill:Highlight}.drawing .on-accent{fill:HighlightText}.drawing .band,.drawing .metal,.drawing .hand{fill:Canvas;stroke:CanvasText}.drawing .open,.drawing .paper{fill:Canvas}}
`;
