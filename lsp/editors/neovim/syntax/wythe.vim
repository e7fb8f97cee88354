" Colours that need no list of keywords: what begins a line or follows a comma is one.
if exists('b:current_syntax')
  finish
endif
syntax match wytheClause '\%(^\s*\|,\s*\)\@<=[[:alpha:]_]\k*'
syntax match wytheDeclaration '^\a\+\>'
syntax keyword wytheWord at to from on into with by until along between under over below above behind for because like every and x
syntax match wytheNumber '\k\@1<!-\?\d\+\%(-\d\+/\d\+\|[./:]\d\+\)\?\%(%\|[[:alpha:]]\+[23]\?\%(/([^)]*)\|/[[:alnum:]]\+\)\?\|\s\%(perm\|deg[CF]\?\|[kM]\?Pa\|mm\|cm\|m\|ft\|in\|%\)\%(\k\)\@!\)\?' contains=wytheUnit
syntax match wytheUnit '%\|[[:alpha:]]\+[23]\?\%(/([^)]*)\|/[[:alnum:]]\+\)\?' contained
syntax match wytheDate '\k\@1<!\d\{4}-\d\d-\d\d\>'
syntax region wytheList start='(' end=')' contains=wytheList,wytheNumber,wytheText,wytheComment,wytheWord,wytheLabel
syntax match wytheLabel '[[:alpha:]_]\k*\ze\s*=' contained
syntax region wytheText start='"' skip='\\.' end='"\|$'
syntax match wytheComment '//.*$'
syntax match wytheDoc '///[^/].*$'
highlight default link wytheDeclaration Statement
highlight default link wytheClause Keyword
highlight default link wytheWord Operator
highlight default link wytheNumber Number
highlight default link wytheDate Number
highlight default link wytheUnit Type
highlight default link wytheLabel Identifier
highlight default link wytheText String
highlight default link wytheComment Comment
highlight default link wytheDoc SpecialComment
let b:current_syntax = 'wythe'
