autocmd BufNewFile,BufRead *.scenario,*.catalog setfiletype glassbrief
" Other programs have files of this name too.
autocmd BufNewFile,BufRead *.rules if search('^\s*\%(criterion\|fact\|case\)\>', 'cnw') | set filetype=glassbrief | endif
