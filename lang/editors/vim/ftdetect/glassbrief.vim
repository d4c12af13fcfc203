autocmd BufNewFile,BufRead *.scenario,*.catalog setfiletype glassbrief
" Other programs have files of this name too.
autocmd BufNewFile,BufRead *.rules if search('^\s*\%(criterion\|fact\|weight\|case\)\>', 'cnw') | set filetype=glassbrief | endif
autocmd BufNewFile,BufRead *.choices if search('^\s*choices\>', 'cnw') | set filetype=glassbrief | endif
