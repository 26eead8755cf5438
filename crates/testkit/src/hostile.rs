//! Texts that a program could take for something else than text.

/// One of each kind: markup, a drawing, text from right to left, emoji and signs of other scripts, what spreadsheets,
/// templates and typesetters read as instructions, ends of what a text may stand in.
pub const HOSTILE: [&str; 7] = [
    "</p><script>alert(1)</script><img src=x onerror=alert(1)>",
    "<svg xmlns=\"http://www.w3.org/2000/svg\" onload=\"alert(1)\"><text>drawn</text></svg>",
    "שלום مرحبا \u{202e}gnp.exe",
    "👩‍🚒 🔥 漢字 ก",
    "=1+1 @SUM(A1) & &amp; {{x}} {$what} ${x} %s \\n; 'one' \"two\" `three`",
    "#panic(\"x\") $x^2$ *b* _i_ <l> @r // `raw` ]}",
    "]]> --> */ </style></title></textarea></svg>",
];
