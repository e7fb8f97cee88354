autocmd BufRead,BufNewFile *.wythe setfiletype wythe
