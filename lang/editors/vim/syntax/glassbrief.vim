" Colours for glassbrief's scenario, catalogue and rules files.
if exists("b:current_syntax") | finish | endif

" Of two items that begin at one place, the later wins.
syn match glassbriefWord     "\h[0-9A-Za-z_]*\%([-/][0-9A-Za-z_]\+\)*"
syn match glassbriefOperator "\.\.\|[:=]\|\<x\>"
syn match glassbriefBecause  "\<because\>"
syn match glassbriefBrace    "[{}]"
syn match glassbriefNumber   "\<\%(f/\|T\|EV-\?\)\d\+\%(\.\d\+\)\?\>"
syn match glassbriefNumber   "[0-9A-Za-z_]\@1<!-\?\%(\d\+\%(\.\d\+\)\?\|\.\d\+\)\%(/\d\+\|\s\+\d\+/\d\+\)\?\%(\%(x\>\)\@!\%(\a\|[µμ]\)\+[23²³]\?\%(/\a\+\)\?\|[%°]\|\s\+\%(stops\?\|\u\u\u\%(/\a\+\)\?\)\>\)\?\%(\%(ft\|lb\)\@2<=\s*\d\+\%(\.\d\+\)\?\%(\s\+\d\+/\d\+\)\?\%(in\|oz\)\>\)\?"
syn match glassbriefWord     "\<\d\d\d\d-\d\d-\d\d\>"
syn region glassbriefText    start=+"+ skip=+\\.+ end=+"+ end=+$+ oneline contains=glassbriefEscape,glassbriefQuoted
syn match glassbriefEscape   "\\." contained
syn match glassbriefQuoted   "{[a-z_][a-z0-9_]*}" contained
syn match glassbriefKeyword  "\%(^\|[{}]\)\@1<=\s*\zs\h[0-9A-Za-z_]*\%(-[0-9A-Za-z_]\+\)*"

" A keyword whose rest is an expression: to the end of the line, a comment, a reason or a
" brace. An operator at the end of the line carries it on.
syn match  glassbriefLogic    "\<\%(and\|or\|not\)\>" contained
syn match  glassbriefFact     "\<\h\w*\>" contained contains=glassbriefLogic
syn match  glassbriefFunction "\<\h\w*\ze\s*(" contained
syn match  glassbriefSign     "[-+*/<>=!&|?:]" contained
syn region glassbriefGroup    start="(" end=")" end="^\ze\s*\%(}\|$\|\%(need\|prefer\|veto\|limit\|lack\|score\|fact\|when\)\>\)" contained contains=glassbriefGroup,glassbriefComment,@glassbriefFormula
syn cluster glassbriefFormula contains=glassbriefSign,glassbriefFact,glassbriefFunction,glassbriefNumber
syn region glassbriefExpression start="\S" end="\ze\s*\%(\<because\>\|//\|}\)" end="\%([-+*/<>=&|?:,!]\|\<and\|\<or\|\<not\)\@4<!\s\@1<!\ze\s*$" contained contains=glassbriefGroup,@glassbriefFormula
syn match  glassbriefKeyword  "\%(^\|[{}]\)\@1<=\s*\zs\%(need\|prefer\|veto\|limit\|lack\|score\|when\)\>" nextgroup=glassbriefExpression skipwhite
syn match  glassbriefKeyword  "\%(^\|[{}]\)\@1<=\s*\zsfact\>" nextgroup=glassbriefWordNamed skipwhite
syn match  glassbriefKeyword  "\%(^\|[{}]\)\@1<=\s*\zsscene\>" nextgroup=glassbriefWordScene skipwhite
syn match  glassbriefWordScene "\%(\.\@1<!\.\.\@!\|[^\x00-\x2c./:-@[-^`{-\x7f]\|[-)]\)\+" contained
syn match  glassbriefWordNamed "\h[0-9A-Za-z_-]*" contained nextgroup=glassbriefOperatorNamed skipwhite
syn match  glassbriefOperatorNamed "=" contained nextgroup=glassbriefExpression skipwhite

syn match glassbriefComment  "//.*$" contains=@Spell
syn sync minlines=30

hi def link glassbriefKeyword  Statement
hi def link glassbriefWord     Identifier
hi def link glassbriefWordScene Identifier
hi def link glassbriefWordNamed Identifier
hi def link glassbriefOperator Operator
hi def link glassbriefOperatorNamed Operator
hi def link glassbriefSign     Operator
hi def link glassbriefLogic    Operator
hi def link glassbriefBecause  Conditional
hi def link glassbriefBrace    Delimiter
hi def link glassbriefNumber   Number
hi def link glassbriefText     String
hi def link glassbriefEscape   SpecialChar
hi def link glassbriefQuoted   Special
hi def link glassbriefFact     Identifier
hi def link glassbriefFunction Function
hi def link glassbriefComment  Comment

let b:current_syntax = "glassbrief"
