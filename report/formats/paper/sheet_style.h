// How the setup sheet looks on screen and on paper: what stands between its <title> and its first words.
#pragma once

#include <string_view>

namespace provecut {

inline constexpr std::string_view sheet_style = R"(<style>
@page { margin: 9mm 12mm; }
* { box-sizing: border-box; }
html { color-scheme: light; }
body { font: 10.5pt/1.3 "DejaVu Sans", Verdana, system-ui, sans-serif; color: #111; background: #fff; margin: 0 auto; max-width: 186mm; padding: 8px; }
section { break-before: page; }
section:first-of-type { break-before: auto; }
header { display: flex; justify-content: space-between; align-items: flex-end; gap: 6mm; border-bottom: 2.5px solid #111; padding-bottom: 1.5mm; margin-bottom: 2.5mm; }
h1 { font-size: 17pt; line-height: 1.15; margin: 0; overflow-wrap: anywhere; }
h2 { font-size: 11.5pt; margin: 2.5mm 0 0.5mm; }
header p { margin: 0; text-align: right; }
p { margin: 1mm 0; }
.verdict { border: 2px solid #111; border-left-width: 8px; padding: 0.8mm 3mm; margin: 2mm 0; font-weight: bold; break-inside: avoid; }
.verdict span { text-transform: uppercase; }
.verdict.stop { border-color: #d55e00; background: #fdf0e6; }
.verdict.look { border-color: #e69f00; background: #fdf6e6; }
svg { display: block; max-width: 100%; height: auto; margin: 1mm 0; break-inside: avoid; }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; }
th, td { text-align: left; vertical-align: top; padding: 0.35mm 1.6mm; border-bottom: 0.6px solid #999; font-size: 10pt; overflow-wrap: anywhere; }
thead th { border-bottom: 1.5px solid #111; font-size: 10pt; overflow-wrap: normal; }
tr { break-inside: avoid; }
caption { text-align: left; font-size: 10pt; padding: 0 1.6mm; }
thead { display: table-header-group; }
td.n, th.n { text-align: right; white-space: nowrap; }
td.k { white-space: nowrap; overflow-wrap: normal; }
.steps td { font-size: 10.5pt; }
.steps td.box { width: 8mm; }
.box i, .todo i { display: inline-block; width: 3.8mm; height: 3.8mm; border: 1.4px solid #111; border-radius: 0.6mm; vertical-align: -0.7mm; }
.steps tr.run td { background: #eef1f3; font-weight: bold; border-bottom: 1.5px solid #111; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
.steps .small { font-weight: normal; font-size: 10pt; display: block; }
.again { font-weight: bold; }
.mono { font-family: "DejaVu Sans Mono", monospace; font-size: 10pt; }
ul { margin: 1mm 0; padding-left: 0; list-style: none; }
li { margin: 0.4mm 0; padding-left: 7mm; text-indent: -7mm; break-inside: avoid; font-size: 10pt; line-height: 1.22; }
li.todo i { text-indent: 0; margin-right: 2.4mm; }
.sign { display: flex; gap: 8mm; margin-top: 3mm; break-inside: avoid; }
.sign span { flex: 1; border-bottom: 1px solid #111; padding-bottom: 5mm; font-size: 10pt; }
.cautions { border-top: 2.5px solid #111; margin-top: 3mm; padding-top: 1mm; font-size: 10pt; break-inside: avoid; }
h2 { break-after: avoid; }
@media screen { section { margin-bottom: 12mm; } }
</style>
</head>
<body>
)";

}  // namespace provecut
