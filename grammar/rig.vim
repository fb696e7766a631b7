" How Vim colours a rig file; made by tests/make_highlighting.py.
if exists("b:current_syntax")
  finish
endif
syntax case ignore
syntax match rigWord /\<\V\%(ac\|accept\|alternator\|array\|battery\|breaker\|busbar\|changeover\|charger\|chassis\|circuit\|combiner\|connector\|dc-dc\|disconnect\|fuse\|include\|inverter\|load\|note\|panel\|photo\|relay\|return\|rig\|selector\|shunt\|slot\|solar\|splice\|state\|switch\|turbine\|vehicle\|wire\|wires\)\m\ze\%([^0-9A-Za-z_-]\|$\)/
syntax match rigFact /\<\V\%(a\|a4\|above\|across\|after\|agm\|all\|always\|ambient\|and\|anl\|at\|below\|beside\|blank\|boat\|both\|breaker\|breakers\|breakout\|bundle\|by\|centre\|charge\|circuit\|class-t\|closed\|cold\|colder\|coldest\|column\|columns\|conductor\|conductors\|continuous\|corroded\|cranking\|critical\|cuts\|cyclic\|day\|degree\|delivers\|draws\|drop\|efficiency\|electronics\|ends\|engine\|except\|feed\|filament\|flooded\|for\|found\|from\|fuse\|gains\|gel\|gives\|heater\|hours\|in\|input\|insulation\|intermittent\|internal\|interrupts\|isolated\|itself\|last\|leads\|led\|letter\|lithium\|loose\|made\|main\|marine\|mark\|marked\|maxi\|mega\|melted\|midi\|mini\|module\|modules\|momentary\|motor\|negative\|no\|note\|numbered\|of\|off\|on\|open\|outputs\|paper\|parallel\|pin\|pins\|pitch\|poles\|put\|px\|rated\|regular\|resets\|rest\|rests\|revised\|revision\|rig\|rules\|rv\|scorched\|series\|sheathed\|short\|side\|slot\|slots\|space\|spare\|starts\|stays\|string\|strings\|stud\|sun\|system\|tag\|tags\|tail\|takes\|terminal-cube\|the\|time\|times\|to\|torque\|two\|used\|vehicle\|way\|ways\|white\|window\|wire\|wires\|works\)\m\ze\%([^0-9A-Za-z_-]\|$\)/
syntax match rigColour /\<\V\%(green-yellow\|light green\|blue-green\|dark green\|light blue\|light gray\|light grey\|dark blue\|dark gray\|dark grey\|turquoise\|orange\|purple\|silver\|violet\|yellow\|beige\|black\|brown\|clear\|green\|white\|GNYE\|bare\|blue\|gold\|gray\|grey\|pink\|red\|tan\|BK\|BN\|BU\|GD\|GN\|GY\|OG\|PK\|RD\|SR\|TQ\|VT\|WH\|YE\)\m\ze\%([^0-9A-Za-z_-]\|$\)/
syntax match rigPlace /\<\h\w*\%(\%(\.\w\+\)\+[+-]\=\|[+-]\)[0-9A-Za-z_+]\@!/
syntax match rigNumber /\<\d\+\%([.\/]\d\+\)\=\%(\s*\V\%(min\/day\|h\/day\|degC\|degF\|mohm\|AWG\|kWh\|min\|mm2\|mm²\|ohm\|Ah\|Nm\|Wh\|cm\|ft\|in\|kA\|kW\|mA\|mV\|mW\|mm\|mΩ\|°C\|°F\|%\|A\|V\|W\|h\|m\|s\|Ω\)\m\ze\%([^0-9A-Za-z_-]\|$\)\)\=/
syntax match rigNumber /\<\d\{4}-\d\d-\d\d\>/
syntax match rigUnknown /?/
syntax match rigStatement /^\s*\V\%(ac\|accept\|alternator\|array\|battery\|breaker\|busbar\|changeover\|charger\|chassis\|circuit\|combiner\|connector\|dc-dc\|disconnect\|fuse\|include\|inverter\|load\|note\|panel\|photo\|relay\|return\|rig\|selector\|shunt\|slot\|solar\|splice\|state\|switch\|turbine\|vehicle\|wire\|wires\)\m\ze\%([^0-9A-Za-z_-]\|$\)/
syntax region rigLabel start=/"/ end=/"/ oneline
syntax match rigComment /#.*$/
highlight default link rigStatement Statement
highlight default link rigWord Statement
highlight default link rigFact Type
highlight default link rigColour Constant
highlight default link rigPlace Identifier
highlight default link rigNumber Number
highlight default link rigUnknown Todo
highlight default link rigLabel String
highlight default link rigComment Comment
let b:current_syntax = "rig"
