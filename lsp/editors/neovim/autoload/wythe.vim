" Indentation: one step deeper behind an open brace or bracket, one back before a closing one.
function! wythe#indent(line) abort
  let above = prevnonblank(a:line - 1)
  if above == 0
    return 0
  endif
  let step = getline(above) =~# '[{(]\s*\(//.*\)\?$' && getline(above) !~# '^\s*//' ? 1 : 0
  let step -= getline(a:line) =~# '^\s*[})]' ? 1 : 0
  return indent(above) + step * shiftwidth()
endfunction
